import { bestSteeringDrive, linesInBand, widestSteeringDrive } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { airOf } from '../../scene/air.ts'
import { boxPlaces, delaySteps, neededSpacingM, sizeOf, spacingOnGrid } from './steer-boxes.ts'
import { steerProblem } from './steer-check.ts'
import * as say from './steer-search.messages.ts'
import {
  everyLine,
  inStep,
  linesOf,
  meanSquares,
  meritsOf,
  type SteerStage,
  setResponses,
  stageOf,
  type Yardstick,
  yardstickOf,
} from './steer-stage.ts'
import {
  coverOf,
  listeningRow,
  type SheetLine,
  type SteerBand,
  type SteerCandidate,
  type SteerQuestion,
  type SteerSearchFound,
  type SteerSet,
  type SteerSuggestion,
  steerLinesHz,
  steerRange,
  usableRule,
} from './steer-terms.ts'
import { delayOfSpacingS, textbookThatFits } from './textbook-set.ts'
import { bodyResponses, type SpotResponses, type SteerTogetherSolved, solvedStage } from './together-lines.ts'

/**
 * One spacing of a search: the question with that spacing, and how much a setting may lose in front, dB. With `steps`, answers of
 * steerTogetherStep to all of its plan, it is searched on the set as one body; else each box radiates as alone.
 */
export type SteerSearchStep = SteerQuestion & {
  mostFrontLossDb: number
  steps?: readonly SteerTogetherSolved[] | undefined
}

/** A set that is solved as one body: all sets whose boxes stand so. */
export type SteerSolvedSet = { set: SteerSet; steps: readonly SteerTogetherSolved[] }

/** Whether the boxes of two sets stand the same way. */
const standAlike = (a: SteerSet, b: SteerSet): boolean =>
  a.arrangement === b.arrangement &&
  a.count === b.count &&
  a.turned === b.turned &&
  Math.abs(a.spacingM - b.spacingM) < 1e-9

/** Spacings that are tried, m: rows and lines no wider than a stage, left and right as far apart as a hall. */
const widestM = 3
const leftRightM = { from: 2, step: 0.25 }

const { step: stepM, max: mostM } = steerRange.spacingM

/**
 * What the spacings of a search may take in a hall, about ms of one core, and the fewest spacings. The sum of a hall's
 * resonances for one box takes about so many ms at a frequency: more of them lie close together the higher it is.
 */
const hallBudgetMs = 10000
const fewestSpacings = 4
const hallLineMs = (frequencyHz: number): number => 2 + 9 * (frequencyHz / 100) ** 2

/** Lines of a question's band. */
const bandLines = (question: Pick<SteerQuestion, 'band'>): number[] => linesInBand(steerLinesHz, question.band)

/** The setting of the books, where it fits. Throws RangeError where none does. */
function textbookOf(question: SteerQuestion): SteerSet {
  const set = textbookThatFits(question, airOf(question.air).speedOfSoundMps)
  if (!set) throw new RangeError(say.noneFits())
  return set
}

/**
 * A set with its figures of merit. In a hall the usable band costs seconds and is told within the reader's band alone unless it
 * is asked for.
 */
function candidateOf(
  question: SteerQuestion,
  set: SteerSet,
  wholeBand: boolean,
  steps?: readonly SteerTogetherSolved[],
): SteerCandidate {
  const stage = stageOf({ ...question, set })
  if (steps) {
    const solved = solvedStage(stage, steps)(boxPlaces(set, stage.size), everyLine)
    return { set, merits: meritsOf(solved, question.band) }
  }
  const whole = wholeBand || stage.scene.surroundings.kind === 'open'
  const among = whole ? everyLine : bandLines(question)
  const lines = linesOf(stage, boxPlaces(set, stage.size), yardstickOf(stage, among, false), among, false)
  if (whole) return { set, merits: meritsOf(lines, question.band) }
  const only = (values: ArrayLike<number>) => among.map((line) => values[line] as number)
  const inBand = {
    frequenciesHz: only(lines.frequenciesHz),
    front: only(lines.front),
    behind: only(lines.behind),
    stackedFront: only(lines.stackedFront),
    stackedBehind: only(lines.stackedBehind),
    distanceDb: lines.distanceDb,
  }
  return { set, merits: meritsOf(inBand, question.band) }
}

/** The settings that a search varies start from these: how the boxes stand is the reader's, a trio's middle one is turned. */
const startOf = ({ set }: SteerQuestion): SteerSet => ({
  ...set,
  delayS: 0,
  inverted: false,
  levelDb: 0,
  turned: set.arrangement === 'trio' ? true : set.turned,
})

/**
 * The spacings that a search tries, one a step: from what the boxes need to half a wavelength at the low end of the band, at most
 * 3 m; left and right 2 to 12 m. In a hall fewer, so that the search stays within seconds. Spacings that do not fit are
 * left out.
 *
 * @throws RangeError where no setting of these boxes fits
 */
export function steerSearchPlan(question: SteerQuestion): SteerSearchStep[] {
  const textbook = candidateOf(question, textbookOf(question), false)
  const mostFrontLossDb = Math.max(usableRule.frontLossDb, textbook.merits.frontLossDb)
  const start = startOf(question)
  const fitting = spacingsOf(question, start)
    .map((spacingM): SteerQuestion => ({ ...question, error: 'none', set: { ...start, spacingM } }))
    .filter((step) => !steerProblem(step))
  return thinned(fitting, mostSteps(question)).map((step) => ({ ...step, mostFrontLossDb }))
}

function spacingsOf(question: SteerQuestion, start: SteerSet): number[] {
  const neededM = neededSpacingM(start, sizeOf(question))
  const wide = start.arrangement === 'left-right'
  const halfWaveM = airOf(question.air).speedOfSoundMps / (2 * question.band.fromHz)
  const fromM = wide ? Math.max(leftRightM.from, neededM) : neededM
  const toM = wide ? mostM : Math.max(fromM, Math.min(widestM, halfWaveM))
  const step = Math.round((wide ? leftRightM.step : stepM) / stepM)
  const spacings: number[] = []
  for (let at = Math.round(fromM / stepM); spacingOnGrid(at) <= toM + 1e-9; at += step) spacings.push(spacingOnGrid(at))
  return spacings
}

/** How many spacings a search may try; a hall's boxes have to be worked out anew at each place. */
function mostSteps(question: SteerQuestion): number {
  if (question.surroundings.kind !== 'hall') return Number.POSITIVE_INFINITY
  const { arrangement, count } = question.set
  const moved = arrangement === 'row' || arrangement === 'left-right' ? count : arrangement === 'trio' ? 1 : count - 1
  const boxMs = bandLines(question).reduce((sum, line) => sum + hallLineMs(steerLinesHz[line] as number), 0)
  return Math.max(fewestSpacings, Math.floor(hallBudgetMs / (boxMs * moved)))
}

/** So many of a list at most, evenly spread, both ends included. */
function thinned<T>(all: T[], most: number): T[] {
  if (all.length <= most) return all
  const chosen = Array.from({ length: most }, (_, i) => Math.round((i * (all.length - 1)) / (most - 1)))
  return chosen.map((index) => all[index] as T)
}

/** Levels of the others, −6 to 6 dB, in the order in which ties are decided: least change first. */
const levelsDb: readonly number[] = Array.from(
  { length: 25 },
  (_, i) => Math.ceil(i / 2) * (i % 2 === 1 ? -1 : 1) * steerRange.levelDb.step,
)

/** Delays from none to there and back between neighbours and a little more, on the grid, s. */
function delaysOf({ set: { spacingM }, air }: SteerQuestion): number[] {
  const { step, max } = steerRange.delayS
  const longestS = Math.min(max, 2 * delayOfSpacingS(spacingM, airOf(air).speedOfSoundMps) + 0.001)
  return Array.from({ length: Math.floor(longestS / step + 1e-9) + 1 }, (_, i) => Number((i * step).toFixed(9)))
}

/**
 * The best delay, polarity and level at one spacing: the most rejection in the reader's band among the settings that lose no more
 * in front than the step allows. Where all lose more, the set without delay. Beside it the setting that keeps usableRule over the
 * widest part of the band.
 *
 * @throws RangeError for a step that does not fit
 */
export function steerSearchStep(step: SteerSearchStep): SteerSearchFound {
  const { set, mostFrontLossDb, steps } = step
  requireInRange('mostFrontLossDb', mostFrontLossDb, { unit: 'dB' })
  const problem = steerProblem(step)
  if (problem) throw new RangeError(`the set does not fit (${problem.kind}); allowed is one of the plan's steps`)
  const stage = stageOf(step)
  const sheet = boxPlaces(set, stage.size)
  const among = bandLines(step)
  const { reference, stackedFront, distanceDb, front, behind } = searched(stage, sheet, among, steps)
  const { spots } = listeningRow
  const first = (among[0] as number) * spots
  const beyond = ((among.at(-1) as number) + 1) * spots
  const inBand = (parts: readonly SpotResponses[]) =>
    parts.map(({ re, im }) => ({ re: re.subarray(first, beyond), im: im.subarray(first, beyond) }))
  const search = {
    frequenciesHz: among.map((line) => steerLinesHz[line] as number),
    steps: delaySteps(set),
    front: inBand(front),
    behind: inBand(behind),
    spots,
    weights: among.map((line) => 1 / (reference[line] as number)),
    stackedFront: among.reduce((sum, line) => sum + (stackedFront[line] as number), 0),
    delaysS: delaysOf(step),
    levelsDb,
    mostFrontLossDb,
  }
  const { drive, tried } = bestSteeringDrive(search)
  const wide = widestSteeringDrive(search, {
    ...usableRule,
    distanceDb,
    stackedFront: among.map((line) => stackedFront[line] as number),
  })
  const { delayS, inverted, levelDb } = drive ?? { delayS: 0, inverted: false, levelDb: 0 }
  const lineHz = (line: number) => steerLinesHz[among[line] as number] as number
  return {
    ...candidateOf(step, { ...set, delayS, inverted, levelDb }, false, steps),
    tried,
    widest: wide && { ...set, delayS: wide.delayS, inverted: wide.inverted, levelDb: wide.levelDb },
    widestBand: wide && { fromHz: lineHz(wide.from), toHz: lineHz(wide.to) },
  }
}

/** What a search sums over at one spacing: by box to the spots of both places, and what the stack does, by line. */
type Searched = Pick<Yardstick, 'reference' | 'distanceDb'> & {
  stackedFront: ArrayLike<number>
  front: SpotResponses[]
  behind: SpotResponses[]
}

function searched(
  stage: SteerStage,
  sheet: SheetLine[],
  among: readonly number[],
  steps: readonly SteerTogetherSolved[] | undefined,
): Searched {
  if (!steps) {
    const responses = (places: typeof stage.front) => setResponses(stage, sheet, places, among, false)
    return { ...yardstickOf(stage, among, false), front: responses(stage.front), behind: responses(stage.behind) }
  }
  const { front, behind, reference } = bodyResponses(stage, steps)
  const { stackedFront, distanceDb } = solvedStage(stage, steps)(sheet, [])
  return { front, behind, stackedFront, distanceDb, reference: meanSquares([reference], inStep, everyLine) }
}

/**
 * The spacings of a search that are worth solving as one body: those at which each box alone promises most, and the one that covers
 * most of the band.
 */
export function steerWorthSolving({
  found,
  mostFrontLossDb,
}: {
  found: readonly SteerSearchFound[]
  mostFrontLossDb: number
}): SteerSet[] {
  const byRejection = found
    .filter(({ merits }) => merits.frontLossDb <= mostFrontLossDb + solvedLossSlackDb)
    .toSorted((a, b) => b.merits.rejectionDb - a.merits.rejectionDb || a.set.spacingM - b.set.spacingM)
  // Neighbours on the grid are much alike: those that are solved lie apart.
  const chosen: SteerSet[] = []
  const isApart = (set: SteerSet) => chosen.every(({ spacingM }) => Math.abs(spacingM - set.spacingM) > solvedApartM)
  for (const { set } of byRejection) {
    if (chosen.length === mostSolved) break
    if (isApart(set)) chosen.push(set)
  }
  const widest = widestStep(found)?.widest
  return widest && isApart(widest) ? [...chosen, widest] : chosen
}

const mostSolved = 3
const solvedApartM = 0.12
/** Solved together a set may lose less in front than each box alone says, dB. */
const solvedLossSlackDb = 0.5

/** A rejection must be better by more than this to count as better, dB: rounding. */
const betterByDb = 1e-9

/**
 * The best of what a search has found, and the setting of the books. The setting of the books is one of those to choose from, so
 * that the best never rejects less. Ties go to the books, then to the smaller delay, then to the smaller spacing.
 *
 * @param candidates  answers of steerSearchStep in any order; with none the books' setting is the best
 * @param solved      sets that are solved as one body; whatever stands like one of them is told as that
 * @throws RangeError where no setting of these boxes fits
 */
export function steerSuggestion(
  question: SteerQuestion & { candidates: readonly SteerSearchFound[]; solved?: readonly SteerSolvedSet[] },
): SteerSuggestion {
  const { candidates, solved = [], ...asked } = question
  const plain: SteerQuestion = { ...asked, error: 'none' }
  const whole: Whole = (set) => candidateOf(plain, set, true, solved.find((known) => standAlike(known.set, set))?.steps)
  const textbook = whole(textbookOf(plain))
  const mostFrontLossDb = Math.max(usableRule.frontLossDb, textbook.merits.frontLossDb)
  const inOrder = candidates
    .filter(({ merits }) => merits.frontLossDb <= mostFrontLossDb + betterByDb)
    .sort((a, b) => a.set.delayS - b.set.delayS || a.set.spacingM - b.set.spacingM)
  let chosen: SteerCandidate | null = null
  let mostDb = textbook.merits.rejectionDb
  for (const { set, merits } of inOrder) {
    if (merits.rejectionDb <= mostDb + betterByDb) continue
    chosen = { set, merits }
    mostDb = merits.rejectionDb
  }
  const best = chosen ? whole(chosen.set) : textbook
  const widest = widestOf(plain, candidates, [textbook, best], whole)
  return {
    textbook,
    best,
    widest,
    covers: coverOf(widest?.merits.usable ?? null, plain.band),
    helps: best.merits.rejectionDb >= usableRule.rejectionDb,
    tried: candidates.reduce((sum, { tried }) => sum + tried, 1),
  }
}

/** A set with its figures of merit over all frequencies. */
type Whole = (set: SteerSet) => SteerCandidate

const octaves = (band: SteerBand | null): number => (band ? Math.log2(band.toHz / band.fromHz) : -1)

/** What of a search covers most of the band. */
const widestStep = (found: readonly SteerSearchFound[]): SteerSearchFound | null =>
  found.reduce<SteerSearchFound | null>(
    (best, next) => (octaves(next.widestBand) > octaves(best?.widestBand ?? null) + 1e-9 ? next : best),
    null,
  )

/** The setting that covers most of the band: of the steps' widest and the settings already worked out, which win ties. */
function widestOf(
  question: SteerQuestion,
  found: readonly SteerSearchFound[],
  known: readonly SteerCandidate[],
  whole: Whole,
): SteerCandidate | null {
  const covered = ({ merits }: SteerCandidate) => octaves(coverOf(merits.usable, question.band).part)
  const step = widestStep(found)
  const candidates = [...known, ...(step?.widest ? [whole(step.widest)] : [])]
  const widest = candidates.reduce((best, next) => (covered(next) > covered(best) + 1e-9 ? next : best))
  return covered(widest) >= 0 ? widest : null
}
