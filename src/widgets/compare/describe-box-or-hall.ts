import { type Estimate, halfIntervalDb, type RangeDifference } from '../../acoustics/index.ts'
import type { BoxOrHallAnswer, SweptFinding, SweptPlace } from '../../engine/questions/compare/sweep-terms.ts'
import { aboutFrequencyText } from '../../words/frequencies.ts'
import { levelText } from '../../words/levels.ts'
import { decimalText, shortText } from '../../words/numbers.ts'
import { shortDelayText } from '../../words/times.ts'
import * as say from './box-or-hall.messages.ts'
import { seconds } from './describe-take.ts'
import type { KeptSweep } from './kept-sweep.ts'

// What sweeps say, in words. Front less behind inside; readers are told what is behind.

/** What differs by less counts as nearly the same, dB: hardlyAnyDb of every verdict. */
const nearlyDb = 3
/** A number that may be off by more answers nothing, dB. */
const mostHalfDb = 3

const amount = (levelDb: number): string => levelText(Math.abs(levelDb))
const directionOf = (lessDb: number): 'less' | 'more' | 'same' => {
  const whole = Math.round(lessDb)
  return whole > 0 ? 'less' : whole < 0 ? 'more' : 'same'
}

/** Which of both it was, or why that cannot be told. */
export function boxOrHall(
  { treble }: BoxOrHallAnswer,
  places: readonly Pick<SweptPlace, 'findings'>[],
): 'box' | 'both' | 'hall' | 'neither' | 'unusual' | 'notSure' | 'tooSoon' | 'tooFaint' {
  const isTooSoon = places.some(({ findings }) => findings.some(({ kind }) => kind === 'too-close'))
  if (!treble) return isTooSoon ? 'tooSoon' : 'tooFaint'
  const unsure = ({ difference }: RangeDifference) => halfIntervalDb(difference) > mostHalfDb
  if (unsure(treble.box) || unsure(treble.whole)) return 'notSure'
  const [box, whole] = [treble.box.difference.levelDb, treble.whole.difference.levelDb]
  if (Math.abs(box) < nearlyDb) return Math.abs(whole) < nearlyDb ? 'neither' : 'hall'
  if (box <= -nearlyDb || whole >= box + nearlyDb) return 'unusual'
  return whole <= box - nearlyDb ? 'both' : 'box'
}

/** The sentence. */
export function boxOrHallWords(answer: BoxOrHallAnswer, places: readonly SweptPlace[]): string {
  const [box, whole] = [answer.treble?.box, answer.treble?.whole].map((range) => range?.difference.levelDb ?? 0) as [
    number,
    number,
  ]
  return say.headline({
    answer: boxOrHall(answer, places),
    box: amount(box),
    sends: directionOf(box),
    whole: amount(whole),
    arrives: directionOf(whole),
    gap: shortGap(places),
  })
}

/** What the hall adds at either place; '' where the box is not told. */
export function addsWords({ treble }: BoxOrHallAnswer): string {
  if (!treble) return ''
  const told = (addedDb: number) => (addedDb < 1 ? say.hardlyAny() : levelText(addedDb))
  return say.adds({ behind: told(treble.addedDb.behind), front: told(treble.addedDb.front) })
}

/** How far down the box is told, and why no farther; and what arrives in the bass. */
export function limitWords({ validFromHz, bass, wholeBass }: BoxOrHallAnswer, places: readonly SweptPlace[]): string[] {
  const limit =
    validFromHz === 0 ? say.nothingCut() : say.limit({ from: limitText(validFromHz), gap: shortGap(places) })
  if (!wholeBass || bass) return [limit]
  const lessDb = wholeBass.difference.levelDb
  return [limit, say.bass({ arrives: directionOf(lessDb), amount: amount(lessDb) })]
}

/** From where on the box is told: '1.1 kHz'. */
export const limitText = (validFromHz: number): string => aboutFrequencyText(validFromHz, 2)

/** The shorter time to a first reflection of both places. */
function shortGap(places: readonly Pick<SweptPlace, 'gapS'>[]): string {
  const gaps = places.flatMap(({ gapS }) => gapS ?? [])
  return gaps.length === 0 ? '' : shortDelayText(Math.min(...gaps))
}

/** As many are told one by one. */
const mostTold = 6

/** What was found in the recordings, with its time; what both places share is told once. */
export function findingWords({ front, behind }: Pick<KeptSweep, 'front' | 'behind'>): string[] {
  const of = (place: KeptSweep['front']) =>
    (place?.findings ?? []).map((finding) => oneFinding(finding, place?.findings ?? []))
  const [inFront, there] = [of(front), of(behind)]
  const isOneFile = front !== null && front.name === behind?.name
  const shared = new Set(isOneFile ? inFront.filter((words) => there.includes(words)) : [])
  const own = (place: 'front' | 'behind', all: string[]) =>
    all.filter((words) => !shared.has(words)).map((words) => say.place({ place, words }))
  const found = [
    ...[...shared].map((words) => say.place({ place: 'both', words })),
    ...own('front', inFront),
    ...own('behind', there),
  ]
  if (found.length === 0) return [say.nothingFound()]
  const more = found.length - mostTold
  return more > 0 ? [...found.slice(0, mostTold), say.findingsMore({ count: more })] : found
}

const noWords = { from: '', to: '', time: '', amount: '', count: 0, used: 'one' as const }

function oneFinding(finding: SweptFinding, all: readonly SweptFinding[]): string {
  switch (finding.kind) {
    case 'one-sweep':
      return say.finding({ ...noWords, kind: 'oneSweep' })
    case 'cut-short':
      return say.finding({ ...noWords, kind: 'cutShort', time: seconds(finding.missingS) })
    case 'clipped':
      return say.finding({ ...noWords, kind: 'clipped', from: seconds(finding.fromS), count: finding.sampleCount })
    case 'gap':
      return say.finding({
        ...noWords,
        kind: 'gap',
        from: seconds(finding.fromS),
        time: shortDelayText(finding.toS - finding.fromS),
        used: usedIn(all),
      })
    case 'unsteady-noise':
      return say.finding({
        ...noWords,
        kind: 'unsteadyNoise',
        from: seconds(finding.fromS),
        to: seconds(finding.toS),
        amount: levelText(finding.excessDb),
        used: usedIn(all),
      })
    case 'clock-drift':
      return say.finding({
        ...noWords,
        kind: finding.driftPpm > 0 ? 'clockFast' : 'clockSlow',
        amount: shortText(Math.abs(finding.driftPpm), 0),
      })
    case 'level-changed':
      return say.finding({
        ...noWords,
        kind: finding.changeDb > 0 ? 'louder' : 'quieter',
        amount: `${shortText(Math.abs(finding.changeDb), 1)} dB`,
      })
    case 'merged':
      return say.finding({ ...noWords, kind: 'merged', time: shortDelayText(finding.gapS) })
    case 'too-close':
      return say.finding({ ...noWords, kind: 'tooClose', time: shortDelayText(finding.gapS) })
    case 'coarse':
      return say.finding({ ...noWords, kind: 'coarse', amount: shortText(finding.bits, 0) })
    case 'file-cut-short':
      return say.finding({ ...noWords, kind: 'fileCutShort' })
  }
}

/** Whether one sweep is left that nothing disturbed, or both count, or the only one. */
function usedIn(findings: readonly SweptFinding[]): 'one' | 'both' {
  if (findings.some(({ kind }) => kind === 'one-sweep')) return 'both'
  const disturbed = findings.flatMap((each) =>
    each.kind === 'unsteady-noise' || each.kind === 'gap' ? [each.sweep] : [],
  )
  return new Set(disturbed).size === 1 ? 'one' : 'both'
}

/** Of both places: decay time by octave, s. */
export const decayRows = (
  front: SweptPlace,
  behind: SweptPlace,
): { nominalHz: number; front: string; behind: string }[] => {
  const told = (decayS: number | null | undefined) =>
    decayS == null ? say.none() : decimalText(decayS, decayS < 1 ? 2 : 1)
  return front.decays.map(({ nominalHz, decayS }) => ({
    nominalHz,
    front: told(decayS),
    behind: told(behind.decays.find((each) => each.nominalHz === nominalHz)?.decayS),
  }))
}

/** The numbers behind the picture, behind less front. */
export function boxOrHallRows({ whole, box }: BoxOrHallAnswer): string[][] {
  const number = (levelDb: number | undefined) => (levelDb === undefined ? say.none() : decimalText(levelDb, 1))
  // Never 0: nobody knows a level so well.
  const half = (found: Estimate | null | undefined) =>
    number(found ? Math.max(0.1, Math.ceil(10 * halfIntervalDb(found)) / 10) : undefined)
  return whole.map(({ nominalHz, difference }, i) => {
    const alone = box[i]?.difference
    return [
      shortText(nominalHz, 1),
      number(alone ? -alone.levelDb : undefined),
      half(alone),
      number(difference ? -difference.levelDb : undefined),
      half(difference),
      number(alone && difference ? alone.levelDb - difference.levelDb : undefined),
    ]
  })
}
