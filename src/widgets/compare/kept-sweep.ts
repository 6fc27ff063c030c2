import * as v from 'valibot'
import type { BoxOrHallQuestion, SweptPlace } from '../../engine/questions/compare/sweep-terms.ts'
import { bandEstimates, finite, level, positive } from './kept-levels.ts'

// The sweeps of a test as they are kept: levels, decay times and what was found, never the sound.

const sweepNumber = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(4))
const stretch = { fromS: finite, toS: finite }
const finding = v.variant('kind', [
  v.object({ kind: v.literal('one-sweep') }),
  v.object({ kind: v.literal('cut-short'), missingS: positive }),
  v.object({ kind: v.literal('clipped'), ...stretch, sampleCount: positive }),
  v.object({ kind: v.literal('gap'), sweep: sweepNumber, ...stretch }),
  v.object({ kind: v.literal('unsteady-noise'), sweep: sweepNumber, ...stretch, excessDb: level }),
  v.object({ kind: v.literal('clock-drift'), driftPpm: finite }),
  v.object({ kind: v.literal('level-changed'), changeDb: level }),
  v.object({ kind: v.literal('merged'), gapS: positive, levelDb: level }),
  v.object({ kind: v.literal('too-close'), gapS: positive }),
  v.object({ kind: v.literal('coarse'), bits: positive }),
  v.object({ kind: v.literal('file-cut-short') }),
])
const place = v.object({
  name: v.string(),
  sampleRateHz: positive,
  durationS: positive,
  whole: bandEstimates,
  box: bandEstimates,
  validFromHz: positive,
  gapS: v.nullable(positive),
  decays: v.pipe(v.array(v.object({ nominalHz: positive, decayS: v.nullable(positive) })), v.maxLength(12)),
  findings: v.pipe(v.array(finding), v.maxLength(1000)),
})

/** Of each place what was measured last, and of a practice recording what is true of it. */
export const sweepSchema = v.object({
  front: v.nullable(place),
  behind: v.nullable(place),
  practice: v.nullable(v.object({ boxTrebleDb: level, wholeTrebleDb: level, driftPpm: finite })),
})

export type KeptSweep = v.InferOutput<typeof sweepSchema>
export type SweptAt = { name: string; place: SweptPlace }

const none = (): KeptSweep => ({ front: null, behind: null, practice: null })

/** The sweeps with one place or both measured anew; the truth of a practice recording goes with the first other one. */
export function withSwept(
  before: KeptSweep | undefined,
  measured: Partial<Record<'front' | 'behind', SweptAt>>,
  practice: KeptSweep['practice'] = null,
): KeptSweep {
  const kept = { ...(before ?? none()), practice }
  for (const at of ['front', 'behind'] as const) {
    const found = measured[at]
    if (found) kept[at] = { name: found.name, ...found.place }
  }
  return kept
}

/** Both places; undefined while one is missing. */
export function sweptPair(kept: KeptSweep | undefined): Pick<BoxOrHallQuestion, 'front' | 'behind'> | undefined {
  if (!kept?.front || !kept.behind) return undefined
  const { name: _, ...front } = kept.front
  const { name: __, ...behind } = kept.behind
  return { front, behind }
}
