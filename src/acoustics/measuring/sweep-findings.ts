import { fewestEqual, fullScale } from './clipped-runs.ts'

/** What is wrong with a recording of sweeps, with its place on the recording's own clock. */
export type SweepFinding =
  /** There is no sweep in it, or one so weak that it cannot be told from what else there is. */
  | { kind: 'no-sweep' }
  /** Only one of the sweeps is in it: clocks and passing noise cannot be told. */
  | { kind: 'one-sweep' }
  /** The recording ends before the last response has had its time, by so much. */
  | { kind: 'cut-short'; missingS: number }
  | { kind: 'clipped'; fromS: number; toS: number; sampleCount: number }
  /** The recorder left out a moment of the sound and wrote silence in its place: what follows comes later by so much. */
  | { kind: 'gap'; sweep: number; fromS: number; toS: number }
  /** Something was heard during one sweep and not during the other; excess re the other, dB. */
  | { kind: 'unsteady-noise'; sweep: number; fromS: number; toS: number; excessDb: number }
  /** The recorder's clock runs faster (above 0) than the player's; it is allowed for. */
  | { kind: 'clock-drift'; driftPpm: number }
  /** The second sweep came louder (above 0) than the first. */
  | { kind: 'level-changed'; changeDb: number }

/** Clipped runs nearer to each other than this are told as one, s. */
const joinedS = 0.1

/**
 * Where a recording is at its ceiling: three or more equal samples at full scale.
 *
 * @param samples       full scale ±1
 * @param sampleRateHz  above 0
 */
export function clippedSpans(samples: ArrayLike<number>, sampleRateHz: number): SweepFinding[] {
  const spans: { from: number; to: number; count: number }[] = []
  for (let n = 0; n < samples.length; ) {
    let end = n + 1
    while (end < samples.length && samples[end] === samples[n]) end += 1
    if (end - n >= fewestEqual && Math.abs(samples[n] as number) >= fullScale) {
      const last = spans.at(-1)
      if (last && n - last.to < joinedS * sampleRateHz) {
        last.to = end
        last.count += end - n
      } else spans.push({ from: n, to: end, count: end - n })
    }
    n = end
  }
  return spans.map(({ from, to, count }) => ({
    kind: 'clipped',
    fromS: from / sampleRateHz,
    toS: to / sampleRateHz,
    sampleCount: count,
  }))
}

/** Silence of such a length is a gap, s: what is longer is a gate that closed, or a pause. So much of sound stands right before and right behind it, s. */
const gapS = { min: 0.001, max: 0.2 } as const
const besideS = 0.003
/** Sound beside a gap, root mean square, and the higher of its edges, re the smallest step of the recording: what is fainter is 0 by itself now and then, or fades away. */
const leastBesideSteps = 2
const leastEdgeSteps = 4

/**
 * Where a recorder did not keep up: samples of exactly 0 in the midst of sound, be it the noise of a pause, as a browser writes them when the
 * microphone's clock and the loudspeaker's differ or the device is busy.
 *
 * @param samples       full scale ±1
 * @param sampleRateHz  above 0
 * @returns  in order of time: the first sample of silence, and the first one behind it
 * Source:   common practice, no source.
 */
export function gapSpans(samples: ArrayLike<number>, sampleRateHz: number): { from: number; to: number }[] {
  const at = (n: number) => Math.abs(samples[n] ?? 0)
  let step = Infinity
  for (let n = 0; n < samples.length; n++) {
    const magnitude = at(n)
    if (magnitude > 0 && magnitude < step) step = magnitude
  }
  const shortest = Math.ceil(gapS.min * sampleRateHz)
  const longest = Math.floor(gapS.max * sampleRateHz)
  const beside = Math.ceil(besideS * sampleRateHz)
  const isSound = (from: number) => {
    let sum = 0
    for (let n = from; n < from + beside; n++) sum += at(n) ** 2
    return sum >= beside * (leastBesideSteps * step) ** 2
  }
  const found: { from: number; to: number }[] = []
  for (let n = 0; n < samples.length; n++) {
    if (at(n) !== 0) continue
    const from = n
    while (n < samples.length && at(n) === 0) n += 1
    const length = n - from
    const isCutOff = Math.max(at(from - 1), at(n)) >= leastEdgeSteps * step
    if (length >= shortest && length <= longest && isCutOff && isSound(from - beside) && isSound(n))
      found.push({ from, to: n })
  }
  return found
}

/** Stretches in which what is left is compared, s, and by how much one has to exceed its twin in the other sweep, dB. */
const stretchS = 0.05
const excessLimitDb = 6
/** What is fainter than this re the whole recording does no harm, dB. */
const harmlessDb = -50
/** What is left below this frequency does not count: rumble comes and goes within a stretch, Hz. */
export const unsteadyFromHz = 100

/**
 * Noise that came in one sweep and not in the other: what is left of the recording without the sweeps and their responses is compared at the same
 * moment of both. What repeats, as harmonics of the loudspeaker do, cancels.
 *
 * @param left     the recording without the sweeps, without what lies below unsteadyFromHz
 * @param firstAt  sample at which the first sweep begins
 * @param spacing  samples from one sweep to the next
 * @param lengthS  how much of each is compared, s: sweep and response
 * @param signalSquare  mean square of the recording
 */
export function unsteadySpans(
  left: Float64Array,
  sampleRateHz: number,
  {
    firstAt,
    spacing,
    lengthS,
    signalSquare,
  }: { firstAt: number; spacing: number; lengthS: number; signalSquare: number },
): Extract<SweepFinding, { kind: 'unsteady-noise' }>[] {
  const step = Math.round(stretchS * sampleRateHz)
  const count = Math.floor((lengthS * sampleRateHz) / step)
  const energiesFrom = (start: number) =>
    Float64Array.from({ length: count }, (_, i) => {
      let sum = 0
      for (let n = start + i * step; n < start + (i + 1) * step; n++) sum += (left[n] ?? 0) ** 2
      return sum
    })
  const both = [energiesFrom(Math.round(firstAt)), energiesFrom(Math.round(firstAt + spacing))] as const
  const quiet = step * signalSquare * 10 ** (harmlessDb / 10)
  const found: Extract<SweepFinding, { kind: 'unsteady-noise' }>[] = []
  for (const [sweep, own] of both.entries()) {
    const other = both[1 - sweep] as Float64Array
    for (let i = 0; i < count; i++) {
      const excessDb = 10 * Math.log10(((own[i] as number) + quiet) / ((other[i] as number) + quiet))
      if (excessDb < excessLimitDb) continue
      const fromS = (firstAt + sweep * spacing + i * step) / sampleRateHz
      const last = found.at(-1)
      // A word has gaps: what follows within two stretches is the same disturbance.
      if (last && last.sweep === sweep + 1 && fromS - last.toS < 2.5 * stretchS) {
        last.toS = fromS + stretchS
        last.excessDb = Math.max(last.excessDb, excessDb)
      } else found.push({ kind: 'unsteady-noise', sweep: sweep + 1, fromS, toS: fromS + stretchS, excessDb })
    }
  }
  return found
}
