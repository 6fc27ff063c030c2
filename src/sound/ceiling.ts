/** The hard ceiling, dB re digital full scale. */
export const ceilingDb = -1

/**
 * Largest sample that leaves the audition: the ceiling as a single-precision number, rounded down, since the
 * audio graph calculates in single precision and must never pass the exact value.
 */
export const ceilingLevel = singleAtMost(10 ** (ceilingDb / 20))

/**
 * Highest peak that a level is set for: 1 dB below the ceiling. The peak is known for a loop that goes round; where it starts,
 * stops or gives way to another, its sum with what still rings may be higher for a moment, and that is what the room is for.
 */
export const safePeak = 10 ** ((ceilingDb - 1) / 20)

/**
 * Gain in front of the shaper. It puts the ceiling at the shaper's own limit of ±1, beyond which a shaper holds the
 * end of its curve, so that the bend lies exactly on a point of the curve.
 */
export const ceilingDriveGain = 1 / ceilingLevel

/**
 * Curve of the shaper behind `ceilingDriveGain`: a straight line from −ceiling to +ceiling. The two together are the
 * identity up to the ceiling (within single-precision rounding) and flat above it.
 *
 * Source: Web Audio API, WaveShaperNode `curve`: linear interpolation between the points, which span −1 … 1, and the
 * end values outside.
 */
export const ceilingCurve = (): Float32Array<ArrayBuffer> => new Float32Array([-ceilingLevel, 0, ceilingLevel])

/** Largest single-precision number that is not above a positive value. */
function singleAtMost(value: number): number {
  const nearest = Math.fround(value)
  if (nearest <= value) return nearest
  const bits = new Uint32Array(new Float32Array([nearest]).buffer)
  bits[0] = (bits[0] ?? 0) - 1
  return new Float32Array(bits.buffer)[0] ?? 0
}
