/**
 * Scales samples to a root mean square.
 *
 * @param samples  at least one that is not zero
 * @param rms      wanted root mean square, above 0
 * @throws RangeError if the samples are silent or not finite
 */
export function scaleToRms(samples: Float32Array, rms: number): Float32Array {
  const present = Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length)
  if (!(present > 0 && Number.isFinite(present))) {
    throw new RangeError(`root mean square of samples is ${present}; allowed is a finite number above 0`)
  }
  return samples.map((sample) => sample * (rms / present))
}
