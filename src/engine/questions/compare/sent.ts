import {
  aWeightingDb,
  type ComparedBand,
  type ComparedGeometry,
  type DetailEstimates,
  detailBands,
  dipRangeHz,
  pinkNoise,
  recordingBands,
  shapedToThirdOctaves,
  thirdOctaveLevelsDb,
  type Verdict,
  verdict,
  weightedLevelDb,
} from '../../../acoustics/index.ts'
import { type AirState, airOf } from '../../scene/air.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { comparedRangesHz } from './compare-terms.ts'

/** One third octave of a test that was sent; null where it was not measured at both places. */
export type SentBand = Pick<ComparedBand, 'levels' | 'difference'> | null

/** What goes into the verdict of a test, small enough for a link: no sound, and nothing of how the levels came about. */
export type SentTest = {
  /** One for each of recordingBands. */
  bands: SentBand[]
  /** Front less behind in the first sentDetailCount of detailBands; null without recordings. */
  detail: DetailEstimates | null
  geometry: ComparedGeometry
  wallsAreEntered: boolean
  bringTogether: boolean
  air: AirState
}

export type SentAnswer = { bands: ComparedBand[]; verdict: Verdict }

/** So many of detailBands, from the lowest, count for a verdict: those in which dips are looked for, and an octave above them to compare them with. */
export const sentDetailCount = detailBands.filter(({ centreHz }) => centreHz <= dipRangeHz.to).length + 24

/**
 * The verdict on a test that was sent, by the function that every verdict comes from; nothing that the sender concluded is taken over.
 *
 * @throws RangeError  for a geometry out of range
 */
export function sentAnswer({ sent }: { sent: SentTest }): SentAnswer {
  const { geometry, wallsAreEntered, bringTogether, air } = sent
  const bands = recordingBands.map(({ nominalHz }, band): ComparedBand => {
    const { levels = null, difference = null } = sent.bands[band] ?? {}
    return { nominalHz, standing: { front: null, behind: null }, levels, difference }
  })
  const detail = sent.detail && detailBands.map((_, band) => sent.detail?.[band] ?? null)
  const told = verdict({
    bands,
    detail,
    geometry,
    wallsAreEntered,
    ranges: comparedRangesHz,
    air: airOf(air),
    isBroughtTogether: bringTogether,
  })
  return { bands, verdict: told }
}

/** Noise with the band levels of both places, and the A-weighted level of each, dB re full scale. */
export type SentNoise = { sampleRateHz: number; front: ShapedNoise; behind: ShapedNoise }
type ShapedNoise = { samples: Float32Array; aWeightedDb: number }

const sampleRateHz = 48000
/** A loop of 11 s: of a length that is quickly transformed, long enough that its lowest band is steady. */
const durationS = 2 ** 19 / sampleRateHz

/**
 * Pink noise shaped to the third octaves in front and behind. Bands between measured ones that were not measured lie on a line between
 * their neighbours; beyond the lowest and the highest that were measured it falls away.
 *
 * @returns  loops; null if no band was measured at both places
 */
export function sentNoise({ sent }: { sent: SentTest }): SentNoise | null {
  if (!sent.bands.some((band) => band?.levels)) return null
  const pink = pinkNoise({ sampleRateHz, durationS, seed: 3 })
  const shaped = (place: 'front' | 'behind'): ShapedNoise => {
    const wanted = withoutGaps(sent.bands.map((band) => band?.levels?.[place].levelDb ?? null))
    const samples = Float32Array.from(shapedToThirdOctaves(pink, sampleRateHz, wanted))
    const levels = thirdOctaveLevelsDb(samples, sampleRateHz, heardBands)
    return { samples, aWeightedDb: weightedLevelDb(levels, heardBands, aWeightingDb) }
  }
  return { sampleRateHz, front: shaped('front'), behind: shaped('behind') }
}

/** Neighbouring bands from the first to the last that has a level; those between without one on a line between their neighbours. */
function withoutGaps(levelsDb: readonly (number | null)[]): { nominalHz: number; levelDb: number }[] {
  const known = levelsDb.flatMap((levelDb, band) => (levelDb === null ? [] : [{ band, levelDb }]))
  const [first, last] = [known[0]?.band ?? 0, known.at(-1)?.band ?? 0]
  return recordingBands.slice(first, last + 1).map(({ nominalHz }, index) => {
    const band = first + index
    const below = known.findLast((each) => each.band <= band)
    const above = known.find((each) => each.band >= band)
    if (!below || !above) throw new RangeError(`band ${nominalHz} Hz lies outside of those that were measured`)
    const share = above.band === below.band ? 0 : (band - below.band) / (above.band - below.band)
    return { nominalHz, levelDb: below.levelDb + share * (above.levelDb - below.levelDb) }
  })
}
