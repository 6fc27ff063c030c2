import type { Rig } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { movedTablePlace, tablePlace } from '../../scene/demo-hall.ts'
import { demoHallStates } from '../../scene/hall-content.ts'
import { steerAnswer } from './steer.ts'
import { boxOf, delayOfSpacingS, sizeOf, textbookSet, wallZMOf } from './steer-check.ts'
import { guessDelaysMs, type SteerGuess } from './steer-guess-terms.ts'
import {
  type Arrangement,
  type SteerAnswer,
  type SteerMerits,
  type SteerQuestion,
  type SteerSet,
  steerErrorSize,
  steerLinesHz,
} from './steer-terms.ts'

/** A number that the lesson on steered bass needs. Losses, cuts and rejections are positive. */
export type SteerFact = { value: number; unit: 'dB' | 'm' | 'Hz' | 'ms' | 'm/s' | 'm²' | 'times' }

/** Spacings of the table to be worked by hand, cm, which name its rows. */
export const handSpacingsCm = [70, 85, 100, 120, 135, 170, 200] as const
/** Third octaves of the lesson's table of the pair, nominal Hz. */
export const pairTableHz = [31.5, 40, 50, 63, 80, 100, 125] as const
/** Distances from the rearmost face to the wall in the lesson's table, m, and how far before the wall its table stands. */
export const wallTableGapsM = { close: 0.5, short: 1, usual: 2, long: 4 } as const
const tableOffWallM = 0.3
/** Sets are compared with the table so far behind the rearmost back, m. */
const comparedBehindM = 2

type HandRow = (typeof handSpacingsCm)[number]
type Merit = 'rejection' | 'loss' | 'cut'
type Usable = 'usable-from' | 'usable-to'
/** The cases of which the words give all figures. */
type Case =
  | 'pair'
  | 'late'
  | 'quiet'
  | 'polarity'
  | 'wall'
  | 'points'
  | 'hall'
  | 'near'
  | 'left-right'
  | 'turned'
  | 'inverted'
  | Compared
/** The sets that are compared, all by the book. */
type Compared = 'by-pair' | 'by-trio' | 'by-line-2' | 'by-line-4'

export type SteerFactName =
  | `${Case}-${Merit}`
  | `${'pair' | 'points' | Compared}-${Usable}`
  | `${Compared}-${'width' | 'depth' | 'floor'}`
  | `${Merit}-${(typeof pairTableHz)[number]}`
  | `${'gap' | Merit | 'open'}-wall-${keyof typeof wallTableGapsM}`
  | `${'delay' | 'quarter' | 'from' | 'to' | 'silent'}-by-${HandRow}`
  | 'stack-floor'
  | 'spacing'
  | 'delay'
  | 'double-delay'
  | 'ms-per-metre'
  | 'cm-per-ms'
  | 'speed-of-sound'
  | 'quarter'
  | 'half-quarter'
  | 'silent'
  | 'front-distance'
  | 'table-distance'
  | 'table-to-box'
  | 'box-depth'
  | 'box-width'
  | 'trio-turned-cut'
  | 'trio-turned-loss'
  | 'early-cut'
  | 'loud-cut'
  | 'close-line-rejection'
  | 'close-line-spacing'
  | 'polarity-rise'
  | 'power-for-loss'
  | 'power-at-40'
  | 'second-box-gain'
  | 'late-limit-63'
  | 'late-limit-100'
  | 'quiet-limit'
  | 'wall-gap'
  | 'wall-stack-rejection'
  | 'far-cut'
  | 'far-rejection'
  | 'far-distance'
  | 'move-distance'
  | 'move-saves'
  | 'as-far-as'
  | 'lane-spacing'
  | 'lane-distance'
  | 'lane-weak-63'
  | 'lane-strong-63'
  | 'lane-weak-80'
  | 'hall-move-saves'
  | 'hall-move-distance'
  | 'hall-net'
  | 'hall-best'
  | 'hall-worst'
  | 'hall-polarity-rise'
  | 'pair-net'
  | 'compared-behind'
  | 'table-off-wall'

/** The pair of the lesson, with which its figure begins: a quarter wavelength of 63 Hz apart, delay to the tenth of a millisecond. */
export const lessonSet: SteerSet = {
  arrangement: 'pair',
  count: 2,
  spacingM: 1.35,
  delayS: 0.0039,
  inverted: true,
  turned: false,
  levelDb: 0,
}

/** The case of the lesson: the pair outdoors, people 5 m in front, the table 4 m behind the foremost front. */
export const lessonQuestion = (rig: Rig): SteerQuestion => ({
  rig,
  point: false,
  set: lessonSet,
  surroundings: { kind: 'outdoors', floor: 'hard' },
  front: { xM: 0, zM: 5 },
  behind: { xM: 0, zM: -4 },
  band: { fromHz: 40, toHz: 100 },
  frequencyHz: 63,
  error: 'none',
})

/** Left and right of the lesson, m apart. */
const lanesSpacingM = 6
/** A second place of the table outdoors, straight behind, m. In the hall it is movedTablePlace. */
const movedOutdoors = { xM: 0, zM: -8 }

const c = airOf(usualAir).speedOfSoundMps
const kept = new Map<string, Record<SteerFactName, SteerFact>>()

/** The numbers of the lesson for the lowest cabinet of one rig, from the functions that its figure uses; computed once. */
export function steerFacts(rig: Rig): Record<SteerFactName, SteerFact> {
  const known = kept.get(rig.name) ?? computeFacts(rig)
  kept.set(rig.name, known)
  return known
}

/** What the guess of a delay is held against: the lesson's pair with every delay of the guess. */
export function guessedPair(rig: Rig): SteerGuess {
  const question = { ...lessonQuestion(rig), air: usualAir }
  const { spacingM } = lessonSet
  const withDelay = (delayMs: number) => steerAnswer({ ...question, set: { ...lessonSet, delayS: delayMs / 1000 } })
  const merits = guessDelaysMs.map((delayMs) => withDelay(delayMs).merits)
  const turned = steerAnswer({ ...question, set: turnedOnly }).merits
  const { heightM, depthM } = boxOf(rig)
  const cutsDb = merits.map(({ behindCutDb }) => behindCutDb)
  return {
    spacingM,
    travelMs: 1000 * delayOfSpacingS(spacingM, c),
    bestMs: guessDelaysMs[cutsDb.indexOf(Math.max(...cutsDb))] as number,
    box: { heightM, depthM },
    tableM: -question.behind.zM,
    cutsDb,
    lossesDb: merits.map(({ frontLossDb }) => frontLossDb),
    turnedOnly: { cutDb: turned.behindCutDb, lossDb: turned.frontLossDb },
  }
}

/** The belief of the lesson: the rear box turned round and nothing else. */
const turnedOnly: SteerSet = { ...lessonSet, delayS: 0, inverted: false, turned: true }

function computeFacts(rig: Rig): Record<SteerFactName, SteerFact> {
  const question = { ...lessonQuestion(rig), air: usualAir }
  const at = (change: Partial<SteerQuestion> = {}): SteerAnswer => steerAnswer({ ...question, ...change })
  const { widthM, depthM } = boxOf(rig)
  const byTheBook = (arrangement: Arrangement, count: number) =>
    textbookSet(arrangement, count, question.band, sizeOf(question), c)
  const trio = byTheBook('trio', 3)
  const closeLine = { ...byTheBook('end-fire', 4), spacingM: 1, delayS: delayOfSpacingS(1, c) }
  const answers = { pair: at(), points: at({ point: true }), far: at({ behind: movedOutdoors }) }
  const { pair } = answers
  const changed = (change: Partial<SteerSet>) => at({ set: { ...lessonSet, ...change } }).merits
  const trioTurned = at({ set: { ...trio, delayS: 0, inverted: false } }).merits
  const polarity = needed(pair.errors.polarity, 'the wrong polarity')
  const wall = needed(pair.errors.wall, 'the wall as an error')
  const { spacingM, delayS } = lessonSet
  const at40 = needed(
    pair.bands.find(({ bandHz }) => bandHz === 40),
    'the band of 40 Hz',
  )
  return {
    ...meritFacts('pair', pair.merits),
    ...usableFacts('pair', pair.merits),
    ...meritFacts('late', needed(pair.errors.late, 'a late box')),
    ...meritFacts('quiet', needed(pair.errors.quiet, 'a quiet box')),
    ...meritFacts('polarity', polarity),
    ...meritFacts('wall', wall),
    ...meritFacts('points', answers.points.merits),
    ...usableFacts('points', answers.points.merits),
    ...meritFacts('turned', at({ set: turnedOnly }).merits),
    ...meritFacts('inverted', changed({ delayS: 0 })),
    ...comparedFacts('by-pair', byTheBook('pair', 2), question),
    ...comparedFacts('by-trio', trio, question),
    ...comparedFacts('by-line-2', byTheBook('end-fire', 2), question),
    ...comparedFacts('by-line-4', byTheBook('end-fire', 4), question),
    ...bandFacts(pair),
    ...handFacts(),
    ...wallFacts(question),
    ...hallFacts(question),
    ...laneFacts(question),
    'stack-floor': { value: widthM * depthM, unit: 'm²' },
    'close-line-spacing': metres(closeLine.spacingM),
    'close-line-rejection': decibels(comparedAnswer(closeLine, question).merits.rejectionDb),
    'compared-behind': metres(comparedBehindM),
    'table-off-wall': metres(tableOffWallM),
    spacing: metres(spacingM),
    delay: milliseconds(delayOfSpacingS(spacingM, c)),
    'double-delay': milliseconds(2 * delayOfSpacingS(spacingM, c)),
    'ms-per-metre': milliseconds(1 / c),
    'cm-per-ms': metres(c / 1000),
    'speed-of-sound': { value: c, unit: 'm/s' },
    quarter: hertz(c / (4 * spacingM)),
    'half-quarter': hertz(c / (8 * spacingM)),
    silent: hertz(c / (2 * spacingM)),
    'front-distance': metres(question.front.zM),
    'table-distance': metres(-question.behind.zM),
    'table-to-box': metres(-question.behind.zM - spacingM - depthM),
    'box-depth': metres(depthM),
    'box-width': metres(widthM),
    'trio-turned-cut': decibels(trioTurned.behindCutDb),
    'trio-turned-loss': decibels(trioTurned.frontLossDb),
    'early-cut': decibels(changed({ delayS: delayS - steerErrorSize.lateS }).behindCutDb),
    'loud-cut': decibels(changed({ levelDb: steerErrorSize.quietDb }).behindCutDb),
    'pair-net': decibels(pair.merits.behindCutDb - pair.merits.frontLossDb),
    'polarity-rise': decibels(pair.merits.behindCutDb - polarity.behindCutDb),
    'power-for-loss': { value: 10 ** (pair.merits.frontLossDb / 10), unit: 'times' },
    'power-at-40': { value: 10 ** (at40.frontLossDb / 10), unit: 'times' },
    'second-box-gain': decibels(20 * Math.log10(2) - pair.merits.frontLossDb),
    'late-limit-63': decibels(-lateLevelDb(63)),
    'late-limit-100': decibels(-lateLevelDb(100)),
    'quiet-limit': decibels(-20 * Math.log10((1 - 10 ** (-steerErrorSize.quietDb / 20)) / 2)),
    'wall-gap': metres(steerErrorSize.wallGapM),
    'far-distance': metres(-movedOutdoors.zM),
    'far-cut': decibels(answers.far.merits.behindCutDb),
    'far-rejection': decibels(answers.far.merits.rejectionDb),
    'move-distance': metres(-movedOutdoors.zM),
    'move-saves': decibels(stackedBehindDb(pair, question) - stackedBehindDb(answers.far, question)),
    // On hard ground outdoors the stack falls by 6 dB per doubling of distance; to the metre, because that is a rule.
    'as-far-as': metres(Math.round(-question.behind.zM * 10 ** (pair.merits.behindCutDb / 20))),
  }
}

/** Two waves against each other, one late by the error's time: what is left, dB re both in step. |1 − e^{−jωτ}|/2 = |sin πfτ|. */
const lateLevelDb = (frequencyHz: number): number =>
  20 * Math.log10(Math.sin(Math.PI * frequencyHz * steerErrorSize.lateS))

function meritFacts<C extends Case>(name: C, { rejectionDb, frontLossDb, behindCutDb }: SteerMerits) {
  return {
    [`${name}-rejection`]: decibels(rejectionDb),
    [`${name}-loss`]: decibels(frontLossDb),
    [`${name}-cut`]: decibels(behindCutDb),
  } as Record<`${C}-${Merit}`, SteerFact>
}

function usableFacts<C extends Case>(name: C, { usable }: SteerMerits) {
  const { fromHz, toHz } = needed(usable, `a usable band of ${name}`)
  return { [`${name}-usable-from`]: hertz(fromHz), [`${name}-usable-to`]: hertz(toHz) } as Record<
    `${C}-${Usable}`,
    SteerFact
  >
}

function bandFacts({ bands }: SteerAnswer) {
  return Object.fromEntries(
    pairTableHz.flatMap((nominalHz) => {
      const row = needed(
        bands.find(({ bandHz }) => bandHz === nominalHz),
        `the band of ${nominalHz} Hz`,
      )
      return [
        [`rejection-${nominalHz}`, decibels(row.rejectionDb)],
        [`loss-${nominalHz}`, decibels(row.frontLossDb)],
        [`cut-${nominalHz}`, decibels(row.behindCutDb)],
      ]
    }),
  ) as Record<`${Merit}-${(typeof pairTableHz)[number]}`, SteerFact>
}

/**
 * The arithmetic by hand: delay d/c; the quarter wave c/4d, where the front of a pair of points loses nothing; 3 dB are lost at half
 * and at one and a half times that, because −20 lg |sin kd| is 3 dB at kd = π/4 and 3π/4; the front is silent at c/2d.
 */
function handFacts() {
  return Object.fromEntries(
    handSpacingsCm.flatMap((spacingCm) => {
      const spacingM = spacingCm / 100
      const quarterHz = c / (4 * spacingM)
      return [
        [`delay-by-${spacingCm}`, milliseconds(delayOfSpacingS(spacingM, c))],
        [`quarter-by-${spacingCm}`, hertz(quarterHz)],
        [`from-by-${spacingCm}`, hertz(quarterHz / 2)],
        [`to-by-${spacingCm}`, hertz(1.5 * quarterHz)],
        [`silent-by-${spacingCm}`, hertz(2 * quarterHz)],
      ]
    }),
  ) as Record<`${'delay' | 'quarter' | 'from' | 'to' | 'silent'}-by-${HandRow}`, SteerFact>
}

/** The pair before a wall, the table a little off the wall, and the same table without the wall. */
function wallFacts(question: SteerQuestion) {
  const size = sizeOf(question)
  const rows = Object.entries(wallTableGapsM).flatMap(([row, gapM]): [string, SteerFact][] => {
    const surroundings = { kind: 'wall', gapM, floor: 'hard' } as const
    const behind = { xM: 0, zM: needed(wallZMOf(question.set, size, surroundings), 'wall') + tableOffWallM }
    const { merits } = steerAnswer({ ...question, surroundings, behind })
    const open = steerAnswer({ ...question, behind }).merits
    return [
      [`gap-wall-${row}`, metres(gapM)],
      [`rejection-wall-${row}`, decibels(merits.rejectionDb)],
      [`loss-wall-${row}`, decibels(merits.frontLossDb)],
      [`cut-wall-${row}`, decibels(merits.behindCutDb)],
      [`open-wall-${row}`, decibels(open.rejectionDb)],
    ]
  })
  const facts = Object.fromEntries(rows) as Record<
    `${'gap' | Merit | 'open'}-wall-${keyof typeof wallTableGapsM}`,
    SteerFact
  >
  const close = (merit: Merit) => facts[`${merit}-wall-close`].value
  // By the definitions the stack's own rejection is the set's, and its front loss, less its cut behind.
  return { ...facts, 'wall-stack-rejection': decibels(close('rejection') + close('loss') - close('cut')) }
}

/** The pair in the empty timber hall with the tables along the wall behind, and the stack with the tables moved along that wall. */
function hallFacts(question: SteerQuestion) {
  const timber = needed(
    demoHallStates.find(({ key }) => key === 'timber'),
    'timber hall',
  )
  const surroundings = { kind: 'hall', design: timber.design } as const
  const here = steerAnswer({ ...question, surroundings, behind: tablePlace })
  const moved = steerAnswer({ ...question, surroundings, behind: movedTablePlace })
  const open = steerAnswer({ ...question, behind: tablePlace })
  const cutsDb = here.bands.filter(({ bandHz }) => bandHz <= 125).map(({ behindCutDb }) => behindCutDb)
  return {
    ...meritFacts('hall', here.merits),
    ...meritFacts('near', open.merits),
    'hall-wall-distance': metres(-tablePlace.zM),
    'hall-move-distance': metres(movedTablePlace.xM),
    'hall-move-saves': decibels(stackedBehindDb(here, question) - stackedBehindDb(moved, question)),
    'hall-best': decibels(Math.max(...cutsDb)),
    'hall-worst': decibels(-Math.min(...cutsDb)),
    'hall-net': decibels(here.merits.behindCutDb - here.merits.frontLossDb),
    'hall-polarity-rise': decibels(
      here.merits.behindCutDb - needed(here.errors.polarity, 'the wrong polarity in the hall').behindCutDb,
    ),
  }
}

/** Where the lanes of a left–right pair lie at the front row's distance, to one side. */
function laneFacts(question: SteerQuestion) {
  const set: SteerSet = {
    ...lessonSet,
    arrangement: 'left-right',
    spacingM: lanesSpacingM,
    delayS: 0,
    inverted: false,
  }
  const answerAt = (frequencyHz: number) => steerAnswer({ ...question, set, frequencyHz })
  const lanes = (frequencyHz: number) => needed(answerAt(frequencyHz).lanes, 'lanes')
  const first = (offsetsM: number[]) =>
    needed(offsetsM.filter((offsetM) => offsetM > 0.01).sort((a, b) => a - b)[0], 'first lane')
  const { strongM, weakM } = lanes(63)
  return {
    ...meritFacts('left-right', answerAt(63).merits),
    'lane-spacing': metres(lanesSpacingM),
    'lane-distance': metres(question.front.zM),
    'lane-weak-63': metres(first(weakM)),
    'lane-strong-63': metres(first(strongM)),
    'lane-weak-80': metres(first(lanes(80).weakM)),
  }
}

/** A set with the table as far behind its rearmost back as for every other. */
function comparedAnswer(set: SteerSet, question: SteerQuestion): SteerAnswer {
  const { depthM } = steerAnswer({ ...question, set, behind: movedOutdoors }).cost
  return steerAnswer({ ...question, set, behind: { xM: 0, zM: -depthM - comparedBehindM } })
}

function comparedFacts<C extends Compared>(name: C, set: SteerSet, question: SteerQuestion) {
  const { merits, cost } = comparedAnswer(set, question)
  return {
    ...meritFacts(name, merits),
    ...usableFacts(name, merits),
    ...({
      [`${name}-width`]: metres(cost.widthM),
      [`${name}-depth`]: metres(cost.depthM),
      [`${name}-floor`]: { value: cost.floorM2, unit: 'm²' },
    } as Record<`${C}-${'width' | 'depth' | 'floor'}`, SteerFact>),
  }
}

/** Mean of the lines within the reader's band, as energy; pink noise has the same power in each of these lines. */
function meanDb(linesDb: number[], { band }: SteerQuestion): number {
  const inside = linesDb.filter((_, i) => {
    const frequencyHz = steerLinesHz[i] as number
    return frequencyHz >= band.fromHz && frequencyHz <= band.toHz
  })
  return 10 * Math.log10(inside.reduce((sum, level) => sum + 10 ** (level / 10), 0) / inside.length)
}

const stackedBehindDb = ({ curves }: SteerAnswer, question: SteerQuestion) => meanDb(curves.stackedBehindDb, question)

function needed<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`The lesson speaks of ${what}, and there is none.`)
  return value
}

const hertz = (value: number): SteerFact => ({ value, unit: 'Hz' })
const metres = (value: number): SteerFact => ({ value, unit: 'm' })
const decibels = (value: number): SteerFact => ({ value, unit: 'dB' })
const milliseconds = (valueS: number): SteerFact => ({ value: 1000 * valueS, unit: 'ms' })
