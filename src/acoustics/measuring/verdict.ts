import type { Air } from '../medium/air.ts'
import type { DetailEstimates } from './detail-difference.ts'
import { type Estimate, halfIntervalDb } from './estimate.ts'
import { type ComparedBand, distanceStepDb, type RangeDifference, rangeDifference } from './level-difference.ts'
import { narrowDips } from './narrow-dips.ts'
import {
  type ComparedGeometry,
  type ExplainedDip,
  explainedDips,
  type ReflectionPath,
  reflectionPaths,
} from './reflection-paths.ts'
import { type ReflectionShare, reflectionShare } from './reflection-share.ts'

/**
 * What makes the difference in the bass:
 *
 *   hardly-any    there is hardly any: within ±3 dB, with distance and without
 *   distance      it is that of the two distances
 *   reflection    a wall or the floor that was entered makes it
 *   really-more   more bass behind than in front, beyond distance and entered reflections
 *   really-less   less of it, beyond both
 *   cannot-tell   see why
 */
export type BassCause = 'hardly-any' | 'distance' | 'reflection' | 'really-more' | 'really-less' | 'cannot-tell'

/** Why the bass cannot be told. */
export type Doubt =
  /** Too few of its bands were measured at both places. */
  | 'not-measured'
  /** The interval reaches over a limit. */
  | 'not-sure'
  /** The distances, or where walls are, are not known. */
  | 'no-distances'
  | 'no-geometry'
  /** A dip fits nothing that was entered, or what was entered does not tell the dips. */
  | 'unexplained-dip'
  /** The difference is there, and there are no detailed levels to look for reflections in. */
  | 'no-detail'

export type Verdict = {
  bass: RangeDifference | null
  middle: RangeDifference | null
  treble: RangeDifference | null
  bassCause: BassCause
  /** null unless the bass cannot be told. */
  doubt: Doubt | null
  /** How much of the difference in the bass comes from distance, and from the entered reflections, dB; null if not known, or not looked for. */
  distanceDb: number | null
  reflection: (ReflectionShare & { paths: ReflectionPath[] }) | null
  /** missing: 6 dB or more less behind than distance makes; less: 3 dB or more; there: no more than 3 dB less. */
  trebleBehind: 'missing' | 'less' | 'there' | 'cannot-tell'
  dips: ExplainedDip[]
}

/** What a verdict is made of. */
export type VerdictCase = {
  bands: readonly ComparedBand[]
  /** Front less behind in twenty-fourth octaves; null if only third octaves are known. */
  detail: DetailEstimates | null
  geometry: ComparedGeometry | null
  /** Whether all walls near both places were entered, or there are none: else nothing is called really more. */
  wallsAreEntered: boolean
  ranges: Record<'bass' | 'middle' | 'treble', { from: number; to: number }>
  air: Air
  /** True if the levels were brought to one distance before. */
  isBroughtTogether?: boolean
}

/** A difference up to this is hardly any, dB; common practice, no source: about the least that is noticed at once. */
export const hardlyAnyDb = 3
/** From this on treble is missing, dB. */
export const missingTrebleDb = 6
/** How well both distances are known together, dB, half of a 95 % interval: 5 % of either. */
const distanceHalfDb = 0.6
/** Detail that a model tells no better than this is not told by it, dB rms. */
const mostRestDb = 2
/** Dips up to here can come with a change of the bass, Hz. */
const bassDipHz = 400

/**
 * What two microphones say, in a form that words can be made of.
 *
 * Every limit is compared with the whole 95 % interval: what reaches over one is not told. A cause is named only if it accounts for
 * the difference to within ±3 dB.
 *
 * @throws RangeError  as reflectionPaths, rangeDifference
 */
export function verdict(given: VerdictCase): Verdict {
  const { bands, detail, geometry, ranges, air, isBroughtTogether = false } = given
  const bass = rangeDifference(bands, ranges.bass)
  const middle = rangeDifference(bands, ranges.middle)
  const treble = rangeDifference(bands, ranges.treble)
  const distanceDb = geometry
    ? isBroughtTogether
      ? 0
      : distanceStepDb({ frontM: geometry.front.distanceM, behindM: geometry.behind.distanceM })
    : null
  const paths = geometry ? reflectionPaths(geometry) : []
  const dips = detail ? explainedDips(narrowDips(detail), paths, air) : []
  const reflection = bass && detail ? entered(given, detail, paths) : null
  const told = bass ? bassTold(given, bass.difference, { distanceDb, dips, reflection }) : doubtful('not-measured')
  return { bass, middle, treble, distanceDb, reflection, dips, ...told, trebleBehind: trebleTold(treble, distanceDb) }
}

type BassTold = Pick<Verdict, 'bassCause' | 'doubt'>
const doubtful = (doubt: Doubt): BassTold => ({ bassCause: 'cannot-tell', doubt })
const sure = (bassCause: BassCause): BassTold => ({ bassCause, doubt: null })

/** Where an interval lies against ±3 dB; undefined if it reaches over a limit. */
function placed(valueDb: number, halfDb: number): 'inside' | 'above' | 'below' | undefined {
  if (Math.abs(valueDb) + halfDb <= hardlyAnyDb) return 'inside'
  if (valueDb - halfDb > hardlyAnyDb) return 'above'
  return valueDb + halfDb < -hardlyAnyDb ? 'below' : undefined
}

function bassTold(
  { detail, wallsAreEntered }: VerdictCase,
  difference: Estimate,
  { distanceDb, dips, reflection }: Pick<Verdict, 'distanceDb' | 'dips' | 'reflection'>,
): BassTold {
  const half = halfIntervalDb(difference)
  const raw = placed(difference.levelDb, half)
  if (distanceDb === null) return raw === 'inside' ? sure('hardly-any') : doubtful(raw ? 'no-distances' : 'not-sure')
  const isApart = Math.abs(distanceDb) > 0.1
  const beyondDb = difference.levelDb - distanceDb
  const beyondHalf = isApart ? Math.hypot(half, distanceHalfDb) : half
  const beyond = placed(beyondDb, beyondHalf)
  if (beyond === 'inside' && raw === 'inside') return sure('hardly-any')
  if (!beyond) return doubtful('not-sure')
  const bassDips = dips.filter(({ frequencyHz }) => frequencyHz <= bassDipHz)
  if (bassDips.some(({ fits }) => !fits)) return doubtful('unexplained-dip')
  if (reflection && reflection.restDb > mostRestDb) return doubtful('unexplained-dip')
  const rest = reflection
    ? placed(beyondDb - reflection.differenceDb, Math.hypot(beyondHalf, reflection.halfDb))
    : beyond
  if (beyond === 'inside') {
    // A reflection that undoes a real difference would pass for distance.
    return isApart && raw && rest === 'inside' ? sure('distance') : doubtful('not-sure')
  }
  if (!detail) return doubtful('no-detail')
  if (rest === 'inside') {
    return wallsAreEntered || bassDips.length > 0 ? sure('reflection') : doubtful('no-geometry')
  }
  if (!rest) return doubtful('not-sure')
  if (!wallsAreEntered) return doubtful('no-geometry')
  return sure(rest === 'below' ? 'really-more' : 'really-less')
}

/** What all entered ways make of it, but for the depth of the box, which is the loudspeaker's own. */
function entered(
  { bands, ranges, air }: VerdictCase,
  detail: DetailEstimates,
  all: readonly ReflectionPath[],
): Verdict['reflection'] {
  const paths = all.filter(({ cause }) => cause !== 'box-depth')
  const share = paths.length > 0 ? reflectionShare(detail, bands, paths, ranges.bass, air) : null
  return share ? { ...share, paths } : null
}

function trebleTold(treble: RangeDifference | null, distanceDb: number | null): Verdict['trebleBehind'] {
  if (!treble) return 'cannot-tell'
  const half = halfIntervalDb(treble.difference)
  const lessDb = treble.difference.levelDb - (distanceDb ?? 0)
  if (lessDb - half >= missingTrebleDb) return 'missing'
  if (lessDb + half <= hardlyAnyDb) return 'there'
  return lessDb - half >= hardlyAnyDb ? 'less' : 'cannot-tell'
}
