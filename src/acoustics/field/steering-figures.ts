import { levelDb } from '../bands/decibels.ts'
import { requireInRange } from '../numeric-range.ts'

/**
 * What a set of boxes and the same boxes stacked send to a place in front and to one behind, by lines of equal energy: mean
 * squares, all re the same source, whose spectrum is flat by these lines. Lines in even steps of lg f stand for pink noise.
 */
export type SteeringLines = {
  frequenciesHz: readonly number[]
  front: ArrayLike<number>
  behind: ArrayLike<number>
  stackedFront: ArrayLike<number>
  stackedBehind: ArrayLike<number>
  /** Front over behind by distance alone, for one small source where the set stands, dB. */
  distanceDb: number
}

/** Figures of merit of a set against the same boxes stacked, dB. */
export type SteeringFigures = { rejectionDb: number; frontLossDb: number; behindCutDb: number }

/** Nothing counts as quieter than this share, −200 dB, so that perfect silence has a level. */
const silence = 1e-20

const ratioDb = (a: number, b: number): number => levelDb(Math.max(a, silence) / Math.max(b, silence))

/**
 * Figures of merit over some of the lines. With the means over these lines ⟨ ⟩, in energy:
 *
 *   rejection  = 10 lg ⟨front⟩/⟨behind⟩ − distanceDb
 *   front loss = 10 lg ⟨stackedFront⟩/⟨front⟩
 *   behind cut = 10 lg ⟨stackedBehind⟩/⟨behind⟩
 *
 * A rejection of 0 is a source that sends as much behind as in front. A negative loss is a gain.
 *
 * @param lines  see SteeringLines; mean squares 0 or more
 * @param among  which lines count; at least one
 * @throws RangeError if no line counts, or a value is not finite or below 0
 * Source: the definitions are ours.
 */
export function steeringFigures(lines: SteeringLines, among: readonly number[]): SteeringFigures {
  requireInRange('among.length', among.length, { min: 1 })
  requireInRange('distanceDb', lines.distanceDb, { unit: 'dB' })
  const sum = (name: 'front' | 'behind' | 'stackedFront' | 'stackedBehind'): number =>
    among.reduce(
      (total, line) => total + requireInRange(`${name}[${line}]`, lines[name][line] as number, { min: 0 }),
      0,
    )
  const [front, behind] = [sum('front'), sum('behind')]
  return {
    rejectionDb: ratioDb(front, behind) - lines.distanceDb,
    frontLossDb: ratioDb(sum('stackedFront'), front),
    behindCutDb: ratioDb(sum('stackedBehind'), behind),
  }
}

/** The lines within a band, both edges included; the nearest one if the band holds none. */
export function linesInBand(frequenciesHz: readonly number[], { fromHz, toHz }: { fromHz: number; toHz: number }) {
  const edge = 1 + 1e-9
  const inside = frequenciesHz.flatMap((hz, line) => (hz >= fromHz / edge && hz <= toHz * edge ? [line] : []))
  if (inside.length > 0) return inside
  const away = frequenciesHz.map((hz) => Math.abs(Math.log(hz / Math.sqrt(fromHz * toHz))))
  return [away.indexOf(Math.min(...away))]
}

/** A narrower run is of no use to anybody, octaves. */
const narrowestOctaves = 1 / 3

/**
 * The usable band: the widest run of neighbouring lines of which every one keeps the rule, if it is a third of an octave wide
 * or more. Of two that are equally wide the lower.
 *
 * @param lines  see SteeringLines, rising and evenly spaced in lg f
 * @param rule   least rejection and largest front loss of a line, dB
 * @returns      the first and the last line of the run, Hz; null where no run is wide enough
 * Source: the definition is ours.
 */
export function usableBandHz(
  lines: SteeringLines,
  rule: { rejectionDb: number; frontLossDb: number },
): { fromHz: number; toHz: number } | null {
  let best: [number, number] | null = null
  let start = -1
  const { frequenciesHz } = lines
  // Each line stands for the step to the next one.
  const stepOctaves = Math.log2((frequenciesHz[1] as number) / (frequenciesHz[0] as number))
  for (let line = 0; line <= frequenciesHz.length; line++) {
    const figures = line < frequenciesHz.length ? steeringFigures(lines, [line]) : null
    if (figures && figures.rejectionDb >= rule.rejectionDb && figures.frontLossDb <= rule.frontLossDb) {
      if (start < 0) start = line
      continue
    }
    const wide = start >= 0 && (line - start) * stepOctaves >= narrowestOctaves
    if (wide && (!best || line - 1 - start > best[1] - best[0])) best = [start, line - 1]
    start = -1
  }
  return best && { fromHz: frequenciesHz[best[0]] as number, toHz: frequenciesHz[best[1]] as number }
}
