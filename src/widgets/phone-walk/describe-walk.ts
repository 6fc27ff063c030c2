import { halfIntervalDb, leastCrestDb } from '../../acoustics/index.ts'
import type { PredictedPlace } from '../../engine/questions/phone-walk/phone-predicted.ts'
import type { FrontDrift, PhoneDifference, RangeHere } from '../../engine/questions/phone-walk/phone-terms.ts'
import { frequencyRangeText, frequencyText } from '../../words/frequencies.ts'
import { downWords, levelText, quieterWords } from '../../words/levels.ts'
import { listText, shortText } from '../../words/numbers.ts'
import type { KeptPlace, KeptWalk } from './kept-walks.ts'
import * as say from './walk.messages.ts'

// What a walk says, in words. Front less here everywhere inside; readers are told what is here.

type Ranges = PhoneDifference['ranges']

/** Here against the front: the one sentence. */
export function hereSentence({ bass, treble }: Pick<Ranges, 'bass' | 'treble'>): string {
  if (bass.kind === 'told' && treble.kind === 'told') return say.both({ ...toldWords(bass), treble: quieter(treble) })
  const ofTreble = treble.kind === 'told' ? say.trebleAlone({ ...asLoud(treble), treble: quieter(treble) }) : ''
  return [
    bass.kind === 'told' ? say.bassAlone(toldWords(bass)) : otherwise('bass', bass),
    treble.kind === 'told' ? ofTreble : otherwise('treble', treble),
  ].join(' ')
}

type Told = RangeHere & { kind: 'told' }
const hereDb = ({ found }: Told): number => -found.difference.levelDb
const quieter = (told: Told): string => quieterWords(hereDb(told))
const asLoud = (told: Told) => ({ asLoud: Math.round(hereDb(told)) === 0 })
const toldWords = (bass: Told) => ({ ...asLoud(bass), bass: quieter(bass) })

function otherwise(range: 'bass' | 'treble', here: Exclude<RangeHere, Told>): string {
  return here.kind === 'at-least'
    ? say.atLeast({ range, amount: levelText(Math.max(1, Math.floor(here.quieterDb))) })
    : say.notHeard({ range })
}

/** Half of the wider 95 % interval of what the sentence tells, whole dB and never less than it is; undefined if it tells no number. */
export function sureHalfDb({ bass, treble }: Pick<Ranges, 'bass' | 'treble'>): number | undefined {
  const halves = [bass, treble].flatMap((here) => (here.kind === 'told' ? [halfIntervalDb(here.found.difference)] : []))
  return halves.length > 0 ? Math.max(1, Math.ceil(Math.max(...halves))) : undefined
}

/** How sure the sentence is; '' if it tells no number. */
export function sureWords(ranges: Pick<Ranges, 'bass' | 'treble'>): string {
  const half = sureHalfDb(ranges)
  return half === undefined ? '' : say.sure({ half: levelText(half) })
}

/** Which bands bass and treble count, where that is not all of them; '' where it is. */
export function countedWords({ bands, ranges }: PhoneDifference): string {
  const counted = (here: RangeHere) => {
    if (here.kind !== 'told' || here.found.measured === here.found.of) return 'none'
    const { fromHz, toHz } = here.found
    const there = bands.filter(({ nominalHz, difference }) => difference && nominalHz >= fromHz && nominalHz <= toHz)
    return frequencyRangeText({ from: there[0]?.nominalHz ?? fromHz, to: there.at(-1)?.nominalHz ?? toHz })
  }
  return say.counted({ bassBands: counted(ranges.bass), trebleBands: counted(ranges.treble) }).trim()
}

/** What came of holding the front again. */
export function driftSentence({ bass, treble }: FrontDrift): string {
  if (!bass || !treble) return say.driftUnknown()
  const halfDb = Math.max(...[bass, treble].map((drift) => Math.abs(drift.levelDb) + halfIntervalDb(drift)))
  const isDistinct = [bass, treble].some((drift) => Math.abs(drift.levelDb) > Math.max(0.5, halfIntervalDb(drift)))
  if (!isDistinct) return say.driftNone({ half: `${shortText(Math.max(0.1, Math.ceil(10 * halfDb) / 10), 1)} dB` })
  return say.drift({ bass: quieterWords(bass.levelDb), treble: quieterWords(treble.levelDb) })
}

/** What the model expects at a place, against the front. */
export function predictedSentence(
  { distanceM, angleDeg }: Pick<KeptPlace, 'distanceM' | 'angleDeg'>,
  predicted: PredictedPlace | null | 'outside' | undefined,
): string {
  if (distanceM === null || angleDeg === null) return say.unpredicted()
  if (!predicted) return say.predicting()
  if (predicted === 'outside') return say.predictedOutside()
  return say.predicted({ bass: downWords(predicted.bassDb), treble: downWords(predicted.trebleDb) })
}

/** For how long a place was averaged. */
export const heldWords = (keptS: number): string => say.held({ seconds: Math.round(keptS) })

/** What is wrong with the sound of a place: clipped, limited, or ''. */
export function soundFault({ clippedSamples, crestDb }: { clippedSamples: number; crestDb: number | null }): string {
  if (clippedSamples > 0) return say.clipped()
  return crestDb !== null && crestDb < leastCrestDb ? say.limited() : ''
}

/** Which bands are not told apart from the quiet, or that there was none. */
export function quietWords({ bands }: Pick<PhoneDifference, 'bands'>, hasQuiet: boolean): string {
  if (!hasQuiet) return say.noQuiet()
  const missing = bands.filter(
    ({ standing }) => standing.front === 'not-measured' || standing.behind === 'not-measured',
  )
  if (missing.length === 0) return ''
  return say.notOver({
    count: missing.length,
    bands: listText(missing.map(({ nominalHz }) => frequencyText(nominalHz))),
  })
}

/** What a walk is called before it gets a name: by the day and the time of day that it began at. */
export function walkName(begun: Date, isPractice: boolean): string {
  const two = (value: number) => String(value).padStart(2, '0')
  return say.walkName({
    isPractice,
    day: `${begun.getFullYear()}-${two(begun.getMonth() + 1)}-${two(begun.getDate())}`,
    time: `${two(begun.getHours())}:${two(begun.getMinutes())}`,
  })
}

/** Whether a place is behind the rig: teal says that and nothing else. */
export const isBehind = (angleDeg: number | null): boolean => angleDeg !== null && Math.abs(angleDeg) > 90

/** The bands of a walk as CSV: place, frequency, front, here, here less front and half of its 95 % interval, dB; an empty cell where nothing was measured. */
export function walkCsv({ places }: KeptWalk, told: readonly (PhoneDifference | undefined)[]): string {
  const cell = (levelDb: number | undefined) => levelDb?.toFixed(2) ?? ''
  const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`
  const rows = places.flatMap(({ name, distanceM, angleDeg }, index) =>
    (told[index]?.bands ?? []).map(({ nominalHz, levels, difference }) =>
      [
        // A name is text, whatever it begins with.
        quoted(/^[=+\-@\t\r]/.test(name) ? `'${name}` : name),
        distanceM ?? '',
        angleDeg ?? '',
        nominalHz,
        cell(levels?.front.levelDb),
        cell(levels?.behind.levelDb),
        cell(difference ? -difference.levelDb : undefined),
        cell(difference ? halfIntervalDb(difference) : undefined),
      ].join(','),
    ),
  )
  const head = 'place,distanceM,angleDeg,frequencyHz,frontDb,hereDb,hereMinusFrontDb,halfInterval95Db'
  return `${[head, ...rows].join('\r\n')}\r\n`
}
