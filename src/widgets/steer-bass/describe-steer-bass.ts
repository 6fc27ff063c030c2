import type { PlanPoint } from '../../acoustics/index.ts'
import { boxOf } from '../../engine/questions/steer/steer-boxes.ts'
import {
  type Arrangement,
  coverOf,
  type SheetLine,
  type SteerAnswer,
  type SteerBand,
  type SteerCover,
  type SteerError,
  type SteerMerits,
  type SteerProblem,
  type SteerQuestion,
  type SteerSet,
  steerErrorSize,
  usableRule,
} from '../../engine/questions/steer/steer-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { bandText, frequencyText } from '../../words/frequencies.ts'
import { fineLengthText, lengthText, tapeText } from '../../words/lengths.ts'
import { signedLevelText } from '../../words/levels.ts'
import { countText, decimalText, listText, shortText, wholeText } from '../../words/numbers.ts'
import { delayText } from '../../words/times.ts'
import { isOwn, type RigChoice } from '../rig-choice/rig-choice.ts'
import * as say from './steer-bass.messages.ts'

const arrangementNames: Record<Arrangement, () => string> = {
  pair: say.pair,
  trio: say.trio,
  'end-fire': say.endFire,
  row: say.row,
  'left-right': say.leftRight,
}
/** An arrangement in the words of the page. */
export const arrangementName = (arrangement: Arrangement): string => arrangementNames[arrangement]()

const othersNames: Record<Arrangement, () => string> = {
  pair: say.othersOfPair,
  trio: say.othersOfTrio,
  'end-fire': say.othersOfEndFire,
  row: say.othersOfRow,
  'left-right': say.othersOfLeftRight,
}
/** Whom delay, polarity and level are for. */
export const othersName = (arrangement: Arrangement): string => othersNames[arrangement]()

const spacingNames: Record<Arrangement, () => string> = {
  pair: say.frontToFront,
  trio: say.middleBehindFronts,
  'end-fire': say.frontToFront,
  row: say.middleToMiddle,
  'left-right': say.middleToMiddle,
}
/** From where to where the spacing is measured. */
export const spacingName = (arrangement: Arrangement): string => spacingNames[arrangement]()

/** What each box is: the lowest way of a rig's lowest cabinet, by its name; a rig of the reader's own by the rig's. */
export function boxName({ key, short, rig }: Pick<RigChoice, 'key' | 'short' | 'rig'>): string {
  const { cabinet, way } = boxOf(rig)
  if (isOwn(key) || !cabinet.label || !way.label) return short
  return say.boxOfRig({ cabinet: cabinet.label, way: way.label })
}

/** Which boxes, and how they stand: '2 × sub, 18-inch woofer: a pair, one behind the other (gradient)'. */
export const setName = ({ arrangement, count }: Pick<SteerSet, 'arrangement' | 'count'>, box: string): string =>
  say.setName({ arrangement: arrangementName(arrangement), count, box })

/** What stands round the set. */
export function surroundingsText(
  surroundings: SteerQuestion['surroundings'],
  hall: string,
  state: string,
  units: LengthUnit,
): string {
  if (surroundings.kind === 'hall') return surroundings.design.rigAt ? state : say.hallInState({ hall, state })
  if (surroundings.kind === 'wall') return say.wallBehindAt({ gap: tapeText(surroundings.gapM, units) })
  return surroundings.floor === 'grass' ? say.onGrass() : say.outdoors()
}

/**
 * The finding: how much of the reader's band the setting covers; where no setting that a search has tried covers it, that
 * comes first.
 *
 * @param searched  what the search for this band has found, if there was one
 */
export function coverTitle({ usable }: Pick<SteerMerits, 'usable'>, band: SteerBand, searched?: SteerCover): string {
  if (searched && !searched.whole) return noSettingCovers(searched, band)
  const { whole, part } = coverOf(usable, band)
  if (whole) return say.titleCovers({ band: bandText(band) })
  if (part) return say.titlePart({ ...ends(part), band: bandText(band) })
  return say.titleNone({ band: bandText(band), works: usable !== null, usable: usable ? bandText(usable) : '' })
}

/** That no setting covers a band, and what the best one covers. */
export const noSettingCovers = ({ part }: SteerCover, band: SteerBand): string =>
  say.noSettingCovers({ band: bandText(band), some: part !== null, ...ends(part ?? band) })

const ends = ({ fromHz, toHz }: SteerBand) => ({ from: Math.round(fromHz), to: Math.round(toHz) })

/** What a box has of its own: '2: 4.0 ms', 'inverted', 'turned'. */
export function boxParts({ box, delayS, polarity, turned, levelDb }: SheetLine): string[] {
  const [first, ...said] = [
    ...(Math.round(1e4 * delayS) === 0 ? [] : [delayText(delayS)]),
    ...(polarity < 0 ? [say.inverted()] : []),
    ...(turned ? [say.turned()] : []),
    ...(levelDb === 0 ? [] : [signedLevelText(levelDb, 1)]),
  ]
  return first === undefined ? [String(box)] : [`${box}: ${first}`, ...said]
}

/** Parts set out in lines of so many letters, or one part where a single one is longer. */
export function partLines(parts: readonly string[], letters: number): string[] {
  const lines: string[] = []
  for (const [index, part] of parts.entries()) {
    const text = index < parts.length - 1 ? `${part},` : part
    const last = lines.at(-1)
    if (last !== undefined && last.length + 1 + text.length <= letters) lines[lines.length - 1] = `${last} ${text}`
    else lines.push(text)
  }
  return lines
}

/** What goes wrong, as the name of a case. */
export const errorName = (error: SteerError, units: LengthUnit): string =>
  say.errorName({
    error,
    lateMs: decimalText(1000 * steerErrorSize.lateS, 1),
    quietDb: steerErrorSize.quietDb,
    distance: fineLengthText(steerErrorSize.wallGapM, units),
  })

/**
 * Sentences promise no more than this, dB: boxes stand in each other's way and are never quite equal, which the calculation
 * leaves out.
 */
const mostDb = 20
/** The number of decibels that a sentence promises, and whether it is over that. */
export const promised = (differenceDb: number): { over: boolean; number: string } => {
  const over = Math.round(differenceDb) > mostDb
  return { over, number: wholeText(over ? mostDb : Math.round(differenceDb)) }
}
/** A level difference for a sentence: '14 dB', or 'more than 20 dB'. */
export const promisedText = (differenceDb: number): string => say.promised(promised(differenceDb))
/** The same of a difference whose way is told in words. */
const apartText = (differenceDb: number): string => promisedText(Math.abs(differenceDb))

/** Which way a level difference goes, rounded to whole decibels. */
export const wayOf = (differenceDb: number): 'same' | 'more' | 'less' => {
  const rounded = Math.round(differenceDb)
  return rounded === 0 ? 'same' : rounded > 0 ? 'more' : 'less'
}

/** Where it works, by our rule; that it does not in the reader's band, where that fails the rule and the usable band lies outside. */
export function usableWords({ usable, rejectionDb, frontLossDb }: SteerMerits, band: SteerBand): string {
  if (!usable) return say.worksNowhere(usableRule)
  const fails = rejectionDb < usableRule.rejectionDb || frontLossDb > usableRule.frontLossDb
  if (fails && !coverOf(usable, band).part) return say.worksNotIn({ band: bandText(band) })
  const [from, to] = [Math.round(usable.fromHz), Math.round(usable.toHz)]
  return from === to ? say.worksAlone({ frequency: frequencyText(from) }) : say.worksFrom({ band: bandText(usable) })
}

/** The one live sentence: what the quiet table gains, what it costs in front, where it works. */
export function steerSentence(
  merits: SteerMerits,
  { set, error, band }: Pick<SteerQuestion, 'set' | 'error' | 'band'>,
  units: LengthUnit,
): string {
  const { behindCutDb, frontLossDb } = merits
  const change = say.change({
    error,
    errorName: errorName(error, units),
    behind: wayOf(-behindCutDb),
    decibels: apartText(behindCutDb),
    count: countText(set.count),
    cost: wayOf(frontLossDb),
    costDb: Math.abs(Math.round(frontLossDb)),
  })
  return `${change} ${usableWords(merits, band)}`
}

/** Front over behind in the reader's band, beside our rule. */
export const rejectionSentence = ({ rejectionDb }: SteerMerits, band: SteerBand): string =>
  say.toTheBack({ band: bandText(band), back: wayOf(-rejectionDb), decibels: apartText(rejectionDb) })

/** What the set takes on the floor, across × deep, beside the same boxes stacked; '' for points, which take none. */
export function floorSentence(
  { boxes, widthM, depthM }: SteerAnswer['cost'],
  stacked: { widthM: number; depthM: number },
  units: LengthUnit,
): string {
  if (stacked.depthM === 0) return ''
  return say.floor({
    count: countText(boxes),
    width: tapeText(widthM, units),
    depth: tapeText(depthM, units),
    stackWidth: tapeText(stacked.widthM, units),
    stackDepth: tapeText(stacked.depthM, units),
  })
}

/** What the pattern shows at one frequency. */
export function polarSentence({ setDb, stackedDb }: SteerAnswer['polar'], frequencyHz: number): string {
  const back = Math.floor(setDb.length / 2)
  const [ahead = 0, behind = 0, stacked = 0] = [setDb[0], setDb[back], stackedDb[0]]
  return say.pattern({
    frequency: frequencyText(frequencyHz),
    back: wayOf(behind - ahead),
    backDb: apartText(behind - ahead),
    ahead: wayOf(ahead - stacked),
    aheadDb: apartText(ahead - stacked),
  })
}

/** Where the lanes of strong and weak bass cross the row in front; '' where an arrangement has none. */
export function lanesSentence(lanes: SteerAnswer['lanes'], frequencyHz: number, units: LengthUnit): string {
  if (!lanes) return ''
  const frequency = frequencyText(frequencyHz)
  if (lanes.weakM.length === 0) return say.noWeakLane({ frequency })
  return say.lanes({
    frequency,
    strongSomewhere: lanes.strongM.length > 0,
    strong: offsetsText(lanes.strongM, units),
    weak: offsetsText(lanes.weakM, units),
  })
}

/** Offsets from the middle in words: 'in the middle and 3.4 m to each side'. */
function offsetsText(offsetsM: readonly number[], units: LengthUnit): string {
  const near = (a: number, b: number) => Math.abs(a - b) < 0.05
  const words = [...offsetsM]
    .sort((a, b) => Math.abs(a) - Math.abs(b) || b - a)
    .flatMap((offsetM) => {
      if (Math.abs(offsetM) < 0.05) return [say.laneInMiddle()]
      const twin = offsetsM.some((other) => near(other, -offsetM))
      const offset = lengthText(Math.abs(offsetM), units)
      if (twin) return offsetM > 0 ? [say.lanesOnBothSides({ offset })] : []
      return [say.laneOnOneSide({ offset, right: offsetM > 0 })]
    })
  return listText(words)
}

/** What is left aside of a link's number of boxes, or ''. */
export function countNotice(count: number, arrangement: Arrangement, allowed: number): string {
  if (count === allowed) return ''
  return say.countNotice({ count, arrangement: arrangementName(arrangement), allowed })
}

/** Who was moved because the place was taken away, or ''. */
export function movedNotice(moved: readonly ('front' | 'behind')[]): string {
  const [first] = moved
  return first ? say.moved({ who: moved.length > 1 ? 'both' : first }) : ''
}

/** Why there is no answer, and what would give one. */
export const problemText = (problem: SteerProblem, arrangement: Arrangement, units: LengthUnit): string =>
  `${whatIsWrong(problem, arrangement, units)} ${say.allStays()}`

const wrongPlaces = { 'in-a-box': 'inBox', 'outside-hall': 'outsideHall', 'behind-wall': 'behindWall' } as const

function whatIsWrong(problem: SteerProblem, arrangement: Arrangement, units: LengthUnit): string {
  switch (problem.kind) {
    case 'overlap': {
      const spacing = tapeText(Math.ceil(problem.neededM * 100 - 1e-6) / 100, units)
      return say.overlap({ spacing, measured: spacingName(arrangement) })
    }
    case 'count':
      return say.wrongCount({ fixed: problem.min === problem.max, min: problem.min, max: problem.max })
    case 'range':
      return rangeText(problem, units)
    case 'outside-hall':
      return say.boxOutsideHall()
    case 'band':
      return say.emptyBand()
    case 'place':
      return say.wrongPlace({ which: problem.which, why: wrongPlaces[problem.why] })
  }
}

function rangeText({ name, min, max }: SteerProblem & { kind: 'range' }, units: LengthUnit): string {
  switch (name) {
    case 'spacingM':
      return say.spacingRange({ min: tapeText(min, units), max: tapeText(max, units) })
    case 'gapM':
      return say.wallRange({ min: tapeText(min, units), max: tapeText(max, units) })
    case 'delayS':
      return say.delayRange({ min: delayText(min), max: delayText(max) })
    case 'levelDb':
      return say.levelRange({ min: signedLevelText(min), max: signedLevelText(max) })
  }
}

/** The setting in a few words, for the note that it can be had back. */
export const settingText = ({ spacingM, delayS, inverted, levelDb }: SteerSet, units: LengthUnit): string =>
  say.setting({
    spacing: tapeText(spacingM, units),
    delay: delayText(delayS),
    inverted,
    levelled: levelDb !== 0,
    level: signedLevelText(levelDb, 1),
  })

/** A place on the plan, told from the foremost front; lengths in the words of `words`. */
export const placeText = ({ xM, zM }: PlanPoint, words: (lengthM: number) => string): string =>
  say.placeOnPlan({
    distance: words(Math.abs(zM)),
    behind: zM < 0,
    side: xM === 0 ? 'middle' : xM > 0 ? 'right' : 'left',
    aside: words(Math.abs(xM)),
  })

/** A delay, read out: '3.9 milliseconds'. */
export const delayWords = (delayS: number): string => say.milliseconds({ number: decimalText(1000 * delayS, 1) })

/** A level with its sign, read out: '+2 decibels'. */
export function levelWords(levelDb: number): string {
  const number = shortText(levelDb, 1)
  return say.decibels({ level: levelDb > 0 && number !== '0' ? `+${number}` : number })
}
