import {
  type BandEstimates,
  type BlockLevels,
  backgroundMarginsDb,
  bandAverages,
  type ComparedBand,
  confidenceOf,
  crestDb,
  halfIntervalDb,
  LevelStream,
  leftOutBlocks,
  levelDifference,
  rangeDifference,
  withDrift,
} from '../../../acoustics/index.ts'
import {
  type FrontDrift,
  type HeldPlace,
  type PhoneDifference,
  type PhoneHere,
  type PhoneWalkAnswer,
  type PhoneWalkQuestion,
  type RangeHere,
  type WalkRange,
  walkRangesHz,
} from './phone-terms.ts'

/** Bands that have to be sure where they are heard, nominal Hz. */
const interestHz = { from: walkRangesHz.bass.from, to: walkRangesHz.treble.to }
const ranges = Object.keys(walkRangesHz) as WalkRange[]

/**
 * Levels of the newest sound, block by block.
 *
 * @param samples  as many blocks as are wanted: a window, and half of one for each further block
 * @throws RangeError for a sample rate out of range
 */
export function phoneBlocks({ sampleRateHz, samples }: { sampleRateHz: number; samples: Float32Array }): BlockLevels {
  const stream = new LevelStream({ sampleRateHz, channelCount: 1 })
  stream.push([samples])
  return stream.levels()
}

/**
 * What a place is worth as far as it has been listened to: talk, bangs and clipping left out, the rest averaged. Bands that do not stand
 * over the quiet need not become sure.
 */
export function phoneHeld({ levels, quiet }: { levels: BlockLevels; quiet: BandEstimates | null }): HeldPlace {
  const { durationS, blockCount, hopS, windowS, clippedSamples } = levels
  const { kept } = leftOutBlocks(levels)
  const keptCount = kept.filter(Boolean).length
  const { estimates } = bandAverages(levels, 0, kept)
  const keptS = keptCount === 0 ? 0 : Math.min(durationS, keptCount * hopS + windowS - hopS)
  const heard = estimates.map((estimate, band) => {
    const quietDb = quiet?.[band]?.levelDb ?? Number.NEGATIVE_INFINITY
    return estimate && estimate.levelDb - quietDb >= backgroundMarginsDb.weak ? estimate : null
  })
  return {
    place: {
      levels: estimates,
      durationS,
      keptS,
      clippedSamples,
      crestDb: blockCount > 0 ? crestDb(levels, 0, kept) : null,
    },
    confidence: confidenceOf(heard, keptS, interestHz),
  }
}

/** What came in during the last seconds, all of it, against the front. Who walks meets other levels, and those widen the interval. */
export function phoneHere(question: {
  front: BandEstimates
  quiet: BandEstimates | null
  levels: BlockLevels
}): PhoneHere {
  const { front, quiet, levels } = question
  const here = bandAverages(levels, 0).estimates
  return {
    ...differenceOf(front, here, quiet),
    clippedSamples: levels.clippedSamples,
    crestDb: crestDb(levels, 0),
  }
}

/**
 * Every place of a walk against the front, and how the front drifted. A place between two looks at the front is less sure by what lies
 * between them (withDrift).
 *
 * @throws RangeError for a place whose front there is none of
 */
export function phoneWalkAnswer({ quiet, fronts, places }: PhoneWalkQuestion): PhoneWalkAnswer {
  const drifts = fronts.slice(1).map((again, before) => driftOf(fronts[before] as BandEstimates, again, quiet))
  return {
    drifts,
    places: places.map(({ levels, front }) => {
      const inFront = fronts[front]
      if (!inFront) throw new RangeError(`front is ${front}; allowed is 0 to ${fronts.length - 1}`)
      const found = differenceOf(inFront, levels, quiet)
      const drift = drifts[front]
      return drift ? lessSure(found, drift) : found
    }),
  }
}

function differenceOf(front: BandEstimates, here: BandEstimates, quiet: BandEstimates | null): PhoneDifference {
  const background = quiet ?? undefined
  const inFront = { levels: front, background }
  const bands = levelDifference({ front: inFront, behind: { levels: here, background } })
  // What is not told apart from the background is at most all that was heard.
  const atMost = levelDifference({ front: inFront, behind: { levels: here } })
  const told = (range: WalkRange) => rangeHere(bands, atMost, range)
  return { bands, ranges: { bass: told('bass'), middle: told('middle'), treble: told('treble') } }
}

function rangeHere(bands: ComparedBand[], atMost: ComparedBand[], range: WalkRange): RangeHere {
  const found = rangeDifference(bands, walkRangesHz[range])
  if (found) return { kind: 'told', found }
  const bound = rangeDifference(atMost, walkRangesHz[range])
  const quieterDb = bound ? bound.difference.levelDb - halfIntervalDb(bound.difference) : 0
  return quieterDb > 0 ? { kind: 'at-least', quieterDb } : { kind: 'not-heard' }
}

function driftOf(before: BandEstimates, again: BandEstimates, quiet: BandEstimates | null): FrontDrift {
  const { ranges: found } = differenceOf(again, before, quiet)
  const of = (range: WalkRange) => (found[range].kind === 'told' ? found[range].found.difference : null)
  return { bass: of('bass'), middle: of('middle'), treble: of('treble') }
}

/** Drifts of unlike size count for the bands of their own range, and those below the bass for that of the bass. */
function lessSure({ bands, ranges: told }: PhoneDifference, drift: FrontDrift): PhoneDifference {
  const driftDb = (range: WalkRange) => drift[range]?.levelDb ?? 0
  const rangeOf = (nominalHz: number) => ranges.find((range) => nominalHz <= walkRangesHz[range].to) ?? 'treble'
  const wider = (range: WalkRange): RangeHere => {
    const here = told[range]
    if (here.kind !== 'told') return here
    const { found } = here
    return { kind: 'told', found: { ...found, difference: withDrift(found.difference, driftDb(range)) } }
  }
  return {
    bands: bands.map((band) => ({
      ...band,
      difference: band.difference && withDrift(band.difference, driftDb(rangeOf(band.nominalHz))),
    })),
    ranges: { bass: wider('bass'), middle: wider('middle'), treble: wider('treble') },
  }
}
