import {
  aWeightingDb,
  type BandEstimates,
  type ComparedBand,
  type DetailEstimates,
  detailDifference,
  enteredLevels,
  levelDifference,
  verdict,
  weightedLevelDb,
} from '../../../acoustics/index.ts'
import { airOf } from '../../scene/air.ts'
import { heardPlaces } from '../../scene/heard.ts'
import { bassHz, heardBands } from '../../scene/third-octaves.ts'
import {
  type CompareAnswer,
  type CompareQuestion,
  comparedRangesHz,
  enteredErrorDb,
  type LevelSource,
  type SourcePair,
  type TakeChannel,
} from './compare-terms.ts'

/**
 * What two microphones say: front less behind by band, the verdict, and what the ear makes of both places.
 *
 * @throws RangeError  for a geometry or a level outside its range
 */
export function compareAnswer(question: CompareQuestion): CompareAnswer {
  const { front, behind, match, quiet, microphones, geometry, wallsAreEntered, bringTogether, frontDbA, air } = question
  const together = bringTogether && geometry !== null
  const bands = levelDifference({
    front: { levels: levelsOf(front), background: quiet && levelsOf(quiet.front), microphone: microphones?.front },
    behind: { levels: levelsOf(behind), background: quiet && levelsOf(quiet.behind), microphone: microphones?.behind },
    paired: pairedOf(question),
    offset: match && offsetOf(match, microphones),
    bringTogether: together ? { frontM: geometry.front.distanceM, behindM: geometry.behind.distanceM } : undefined,
  })
  const detail = detailOf(question)
  return {
    bands,
    detail,
    verdict: verdict({
      bands,
      detail,
      geometry,
      wallsAreEntered,
      ranges: comparedRangesHz,
      air: airOf(air),
      isBroughtTogether: together,
    }),
    ...heardOf(bands, frontDbA),
  }
}

const channelOf = (source: LevelSource): TakeChannel | undefined =>
  source.kind === 'take' ? source.take.channels[source.channel] : undefined

function levelsOf(source: LevelSource): BandEstimates {
  if (source.kind === 'entered') return enteredLevels(source.levelsDb, enteredErrorDb)
  const channel = channelOf(source)
  if (!channel) throw new RangeError(`channel is ${source.channel}; allowed is below ${source.take.channels.length}`)
  return channel.levels
}

/** First less second of two channels of one take; undefined if they were not recorded at once. */
function pairedOf({ front, behind }: SourcePair): BandEstimates | undefined {
  if (front.kind !== 'take' || behind.kind !== 'take') return undefined
  const { take } = front
  // A take that comes by message twice is two objects with the same content.
  const isSame = take === behind.take || (take.paired !== null && JSON.stringify(take) === JSON.stringify(behind.take))
  if (!isSame || !take.paired || front.channel === behind.channel) return undefined
  const sign = front.channel < behind.channel ? 1 : -1
  return take.paired.map((estimate) => estimate && { ...estimate, levelDb: sign * estimate.levelDb })
}

type Microphones = CompareQuestion['microphones']

/** How much more the microphone behind shows than the one in front, beyond what their files say. */
export function offsetOf(match: SourcePair, microphones: Microphones): BandEstimates {
  return levelDifference({
    front: { levels: levelsOf(match.behind), microphone: microphones?.behind },
    behind: { levels: levelsOf(match.front), microphone: microphones?.front },
    paired: pairedOf(match)?.map((estimate) => estimate && { ...estimate, levelDb: -estimate.levelDb }),
  }).map(({ difference }) => difference)
}

function detailOf({ front, behind, match, quiet, microphones }: CompareQuestion): DetailEstimates | null {
  const [first, second] = [channelOf(front)?.detail, channelOf(behind)?.detail]
  if (!first || !second) return null
  const background = quiet && detailPair(quiet)
  const matched = match && detailPair(match)
  return detailDifference({
    front: first,
    behind: second,
    background,
    microphones,
    offset:
      matched &&
      detailDifference({
        front: matched.behind,
        behind: matched.front,
        microphones: { front: microphones?.behind, behind: microphones?.front },
      }),
  })
}

function detailPair({ front, behind }: SourcePair): { front: DetailEstimates; behind: DetailEstimates } | undefined {
  const [first, second] = [channelOf(front)?.detail, channelOf(behind)?.detail]
  return first && second ? { front: first, behind: second } : undefined
}

/** Of so many of the bands that are heard, so many have to be measured. */
const fewestHeard = 22

/** What the ear makes of both with the front at a level in dB(A). Bands that were not measured count as silent. */
function heardOf(bands: readonly ComparedBand[], frontDbA: number): Pick<CompareAnswer, 'heard' | 'unheardHz'> {
  const unheardHz = bands.filter(({ levels }) => !levels).map(({ nominalHz }) => nominalHz)
  const lacksBass = unheardHz.some((nominalHz) => nominalHz >= bassHz.from && nominalHz <= bassHz.to)
  if (bands.length - unheardHz.length < fewestHeard || lacksBass) return { heard: null, unheardHz }
  const levelsOfPlace = (place: 'front' | 'behind') =>
    Float64Array.from(bands, ({ levels }) => levels?.[place].levelDb ?? Number.NEGATIVE_INFINITY)
  const front = levelsOfPlace('front')
  const liftDb = frontDbA - weightedLevelDb(front, heardBands, aWeightingDb)
  return { heard: heardPlaces({ front, behind: levelsOfPlace('behind') }, liftDb, 'free'), unheardHz }
}
