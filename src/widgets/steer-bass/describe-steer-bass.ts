import {
  type Arrangement,
  type SteerAnswer,
  type SteerBand,
  type SteerError,
  type SteerMerits,
  type SteerPatchLine,
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
import { countText, listText } from '../../words/numbers.ts'
import { delayText } from '../../words/times.ts'

/** The arrangements in the words of the page. */
export const arrangementNames: Record<Arrangement, string> = {
  pair: 'a pair, one behind the other (gradient)',
  trio: 'a trio, the middle one set back',
  'end-fire': 'a line to the front (end-fire)',
  row: 'a row, side by side',
  'left-right': 'left and right, apart',
}

/** Whom delay, polarity and level are for. */
export const othersNames: Record<Arrangement, string> = {
  pair: 'the rear box',
  trio: 'the middle box',
  'end-fire': 'each box after the rearmost',
  row: 'the outer boxes',
  'left-right': 'the right box',
}

/** From where to where the spacing is measured. */
export const spacingNames: Record<Arrangement, string> = {
  pair: 'front to front',
  trio: 'middle face behind the fronts',
  'end-fire': 'front to front',
  row: 'middle to middle',
  'left-right': 'middle to middle',
}

const boxesWords = (count: number) => `${countText(count)} boxes`

/** What a box has of its own: '2: 4.0 ms', 'inverted', 'turned'. */
export function boxParts({ box, delayS, polarity, turned, levelDb }: SteerPatchLine): string[] {
  const [first, ...said] = [
    ...(Math.round(1e4 * delayS) === 0 ? [] : [delayText(delayS)]),
    ...(polarity < 0 ? ['inverted'] : []),
    ...(turned ? ['turned'] : []),
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
export function errorName(error: SteerError, units: LengthUnit): string {
  return {
    none: 'as set',
    late: `one box ${(1000 * steerErrorSize.lateS).toFixed(1)} ms late`,
    quiet: `one box ${steerErrorSize.quietDb} dB down`,
    polarity: 'one polarity wrong',
    wall: `a hard wall ${fineLengthText(steerErrorSize.wallGapM, units)} behind`,
  }[error]
}

/**
 * Sentences promise no more than this, dB: boxes stand in each other's way and are never quite equal, which the calculation
 * leaves out.
 */
const mostDb = 20
/** A level difference for a sentence: '14 dB', or 'more than 20 dB'. */
export const promisedText = (differenceDb: number): string => {
  const rounded = Math.round(differenceDb)
  return rounded > mostDb ? `more than ${mostDb} dB` : `${rounded < 0 ? '−' : ''}${Math.abs(rounded)} dB`
}

const changeWords = (lessDb: number) => {
  const rounded = Math.round(lessDb)
  return rounded === 0
    ? 'as loud as'
    : `${promisedText(Math.abs(rounded))} ${rounded > 0 ? 'quieter than' : 'louder than'}`
}

const costWords = (frontLossDb: number) => {
  const rounded = Math.round(frontLossDb)
  return rounded === 0 ? 'it costs nothing' : `it ${rounded > 0 ? 'costs' : 'brings'} ${Math.abs(rounded)} dB`
}

/** Where it works, by our rule. */
export function usableWords(usable: SteerBand | null): string {
  if (!usable)
    return `Nowhere from 25 to 200 Hz does it keep ${usableRule.rejectionDb} dB from the back for ${usableRule.frontLossDb} dB or less in front.`
  if (Math.round(usable.fromHz) === Math.round(usable.toHz)) return `It works at ${Math.round(usable.fromHz)} Hz alone.`
  return `It works from ${bandText(usable)}.`
}

/** The one live sentence: what the quiet table gains, what it costs in front, where it works. */
export function steerSentence(
  { behindCutDb, frontLossDb, usable }: SteerMerits,
  { set, error }: Pick<SteerQuestion, 'set' | 'error'>,
  units: LengthUnit,
): string {
  const wrong = error === 'none' ? '' : `With ${errorName(error, units)}: `
  const place = error === 'none' ? 'Behind' : 'behind'
  return `${wrong}${place}, at the table, this set is ${changeWords(behindCutDb)} the same ${boxesWords(set.count)} stacked; in front ${costWords(frontLossDb)}. ${usableWords(usable)}`
}

/** Front over behind in the reader's band, beside our rule. */
export function rejectionSentence({ rejectionDb }: SteerMerits, band: SteerBand): string {
  const rounded = Math.round(rejectionDb)
  const less =
    rounded === 0
      ? 'as much goes to the back as to the front'
      : `${promisedText(Math.abs(rounded))} ${rounded > 0 ? 'less' : 'more'} goes to the back than to the front`
  return `From ${bandText(band)}, at equal distance, ${less}.`
}

/** What the set takes on the floor, across × deep, beside the same boxes stacked; '' for points, which take none. */
export function floorSentence(
  { boxes, widthM, depthM }: SteerAnswer['cost'],
  stacked: { widthM: number; depthM: number },
  units: LengthUnit,
): string {
  if (stacked.depthM === 0) return ''
  const floor = (size: { widthM: number; depthM: number }) =>
    `${tapeText(size.widthM, units)} × ${tapeText(size.depthM, units)}`
  return `It takes ${boxesWords(boxes)} and ${floor({ widthM, depthM })} of floor, across × deep; stacked they take ${floor(stacked)}.`
}

/** What the pattern shows at one frequency. */
export function polarSentence({ setDb, stackedDb }: SteerAnswer['polar'], frequencyHz: number): string {
  const back = Math.floor(setDb.length / 2)
  const [ahead = 0, behind = 0, stacked = 0] = [setDb[0], setDb[back], stackedDb[0]]
  const down = Math.round(ahead - behind)
  const rear = down === 0 ? 'as much' : `${promisedText(Math.abs(down))} ${down > 0 ? 'less' : 'more'}`
  return `At ${frequencyText(frequencyHz)}, far away outdoors, ${rear} goes straight back than straight ahead; straight ahead it is ${changeWords(stacked - ahead)} the stack.`.replace(
    'as much goes straight back than',
    'as much goes straight back as',
  )
}

/** Where the lanes of strong and weak bass cross the row in front; '' where an arrangement has none. */
export function lanesSentence(lanes: SteerAnswer['lanes'], frequencyHz: number, units: LengthUnit): string {
  if (!lanes) return ''
  const at = `${frequencyText(frequencyHz)}, on open ground,`
  if (lanes.weakM.length === 0) return `At ${at} no lane of weak bass crosses the row in front.`
  const strong = lanes.strongM.length === 0 ? '' : `strong ${offsetsText(lanes.strongM, units)}; `
  return `At ${at} along the row in front, bass is ${strong}weak ${offsetsText(lanes.weakM, units)}.`
}

/** Offsets from the middle in words: 'in the middle and 3.4 m to each side'. */
function offsetsText(offsetsM: readonly number[], units: LengthUnit): string {
  const near = (a: number, b: number) => Math.abs(a - b) < 0.05
  const words = [...offsetsM]
    .sort((a, b) => Math.abs(a) - Math.abs(b) || b - a)
    .flatMap((offsetM) => {
      if (Math.abs(offsetM) < 0.05) return ['in the middle']
      const twin = offsetsM.some((other) => near(other, -offsetM))
      if (twin) return offsetM > 0 ? [`${lengthText(offsetM, units)} to each side`] : []
      return [`${lengthText(Math.abs(offsetM), units)} to the ${offsetM > 0 ? 'right' : 'left'}`]
    })
  return listText(words)
}

/** What is left aside of a link's number of boxes, or ''. */
export function countNotice(count: number, arrangement: Arrangement, allowed: number): string {
  if (count === allowed) return ''
  return `count “${count}” (${arrangementNames[arrangement]}: ${allowed} boxes)`
}

/** Who was moved because the place was taken away, or ''. */
export function movedNotice(moved: readonly ('front' | 'behind')[]): string {
  const names = moved.map((which) => (which === 'front' ? 'the listeners in front' : 'the quiet table'))
  if (names.length === 0) return ''
  const who = names.join(' and ')
  return `${who.charAt(0).toUpperCase()}${who.slice(1)} did not fit there and moved to the nearest place that does.`
}

/** Why there is no answer, and what would give one. */
export function problemText(problem: SteerProblem, arrangement: Arrangement, units: LengthUnit): string {
  const stays = 'Map and curves stay as they were.'
  switch (problem.kind) {
    case 'overlap':
      return `The boxes would stand in each other: they need ${tapeText(Math.ceil(problem.neededM * 100 - 1e-6) / 100, units)} or more, ${spacingNames[arrangement]}. ${stays}`
    case 'count':
      return `This arrangement takes ${problem.min === problem.max ? problem.min : `${problem.min} to ${problem.max}`} boxes. ${stays}`
    case 'range': {
      const { name, min, max } = problem
      const allowed = {
        spacingM: `The spacing may be ${tapeText(min, units)} to ${tapeText(max, units)}`,
        gapM: `The wall may be ${tapeText(min, units)} to ${tapeText(max, units)} behind`,
        delayS: `The delay may be ${delayText(min)} to ${delayText(max)}`,
        levelDb: `The level may be ${signedLevelText(min)} to ${signedLevelText(max)}`,
      }[name]
      return `${allowed}. ${stays}`
    }
    case 'outside-hall':
      return `A box would stand outside the hall. Take less spacing or fewer boxes. ${stays}`
    case 'band':
      return `Your band has to begin below where it ends. ${stays}`
    case 'place': {
      const who = problem.which === 'front' ? 'The listeners in front' : 'The quiet table'
      const where = {
        'in-a-box': 'would be inside a box',
        'outside-hall': 'would be outside the hall',
        'behind-wall': 'would be behind the wall',
      }[problem.why]
      return `${who} ${where}. Drag ${problem.which === 'front' ? 'them' : 'it'} away, or move the boxes closer together. ${stays}`
    }
  }
}

/** The setting in a few words, for the note that it can be had back. */
export const settingText = ({ spacingM, delayS, inverted, levelDb }: SteerSet, units: LengthUnit): string =>
  [
    tapeText(spacingM, units),
    delayText(delayS),
    inverted ? 'inverted' : 'same polarity',
    ...(levelDb === 0 ? [] : [signedLevelText(levelDb, 1)]),
  ].join(', ')
