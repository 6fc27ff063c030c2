import type { Band } from '../../../acoustics/bands/octave-bands.ts'
import type { PlanPoint } from '../../../acoustics/field/footprint.ts'
import type { Rig } from '../../../acoustics/field/rig.ts'
import type { InAir } from '../../scene/air.ts'
import type { AtWall, InHall, Outdoors } from '../../scene/surroundings.ts'
import { bandsBetween } from '../../scene/third-octaves.ts'

// The terms that the figure of steered bass shares with its calculation, without fetching the calculation itself.

/**
 * How the boxes stand. x to the right, z to the front; the origin is on the floor below the middle of the foremost front.
 *
 *   pair        two boxes, one spacingM behind the other
 *   trio        three side by side, the middle one spacingM behind the front of the others, face to face plane
 *   end-fire    `count` boxes in a line to the front, spacingM from front to front; the rearmost plays first
 *   row         `count` boxes side by side, spacingM from middle to middle
 *   left-right  two boxes, spacingM from middle to middle, far apart
 */
export const arrangements = ['pair', 'trio', 'end-fire', 'row', 'left-right'] as const
export type Arrangement = (typeof arrangements)[number]

/**
 * A set of equal boxes. Box 1 is the foremost (pair), the left one (trio, row, left-right) or the rearmost (end-fire). What is
 * said of "the others" holds for: the rear box of a pair, the middle box of a trio, every box after the first of an end-fire
 * line, the outer boxes of a row, the right box of left-right.
 */
export type SteerSet = {
  arrangement: Arrangement
  /** Boxes: 2 in a pair and left–right, 3 in a trio, 2 … 6 in a line or row. */
  count: number
  spacingM: number
  /** Delay of the others, s; in an end-fire line and a row it is the step from box to box (in a row from the middle outward). */
  delayS: number
  /** Whether the others play with inverted polarity. */
  inverted: boolean
  /** Whether the others are turned round to face the rear. */
  turned: boolean
  /** Level of the others re the first, dB. The loudest box plays as loud as each of the stack. */
  levelDb: number
}

/** What the boxes are: the lowest way of a rig's lowest cabinet, or points that radiate evenly all round. */
export type SteerBox = { rig: Rig; point: boolean }

/** Boxes stand on hard ground or grass, on hard ground before a hard wall, or in a hall. */
export type SteerSurroundings =
  | (Outdoors & { floor: 'hard' | 'grass' })
  | (Pick<AtWall, 'kind' | 'gapM'> & { floor: 'hard' })
  | InHall

/** What can go wrong on the night; each is done to the set as it stands. */
export const steerErrors = ['none', 'late', 'quiet', 'polarity', 'wall'] as const
export type SteerError = (typeof steerErrors)[number]
/** How much goes wrong: one box late, one box down, a wall so far behind the rearmost face. */
export const steerErrorSize = { lateS: 0.0003, quietDb: 1, wallGapM: 0.5 } as const

export type SteerQuestion = InAir & {
  rig: Rig
  point: boolean
  set: SteerSet
  surroundings: SteerSurroundings
  /** Middle of the row of listeners in front and of the quiet table behind, at ear height: each is listeningRow wide. */
  front: PlanPoint
  behind: PlanPoint
  /** The reader's band, Hz. */
  band: SteerBand
  /** The frequency that map and polar show, Hz. */
  frequencyHz: number
  /** What goes wrong in curves, map and polar. */
  error: SteerError
}

export type SteerBand = { fromHz: number; toHz: number }

/** Figures of merit over the reader's band, energy averages of pink noise, dB. */
export type SteerMerits = {
  /** Front over behind, with the difference that distance alone makes for one box taken out. */
  rejectionDb: number
  /** Front: the same boxes stacked, less the set. */
  frontLossDb: number
  /** Behind: the same boxes stacked, less the set: what the quiet table gains. */
  behindCutDb: number
  /** Widest run of 1/24-octave lines, a third of an octave or more, with rejection ≥ 6 dB and front loss ≤ 3 dB, 25 to 200 Hz; null without one. */
  usable: SteerBand | null
}

/** Rejection that makes a frequency usable, and the front loss that it may cost, dB. Ours. */
export const usableRule = { rejectionDb: 6, frontLossDb: 3 } as const

/** Curves by steerLinesHz, dB re the same boxes stacked in front outdoors at that frequency. */
export type SteerCurves = {
  frontDb: number[]
  behindDb: number[]
  stackedFrontDb: number[]
  stackedBehindDb: number[]
}

export type SteerBandRow = { bandHz: number; rejectionDb: number; frontLossDb: number; behindCutDb: number }

export type SheetLine = {
  box: number
  /** Middle of the front face of a box that is not turned; of a turned one too, its face looks to the rear. */
  xM: number
  zM: number
  turned: boolean
  delayS: number
  polarity: 1 | -1
  levelDb: number
}

export type SteerAnswer = {
  curves: SteerCurves
  /** Of the set without the question's error; see errors. */
  merits: SteerMerits
  /** By third octaves, 31.5 to 160 Hz. */
  bands: SteerBandRow[]
  /** Every error done to the set without the others: what is left. 'wall' is null where a wall or a hall is already there, or where it is to come. */
  errors: Record<Exclude<SteerError, 'none'>, SteerMerits | null>
  /** Whether the boxes are solved as one body, so that they stand in each other's way; else each radiates as alone. */
  asBody: boolean
  /** Whether the wall as an error is still to be solved. */
  wallToCome: boolean
  /** Level by direction at frequencyHz far away on hard ground, every polarStepDeg from straight ahead to the right, whole circle, dB re the stack straight ahead. */
  polar: { setDb: number[]; stackedDb: number[] }
  /** What it costs against one stack: boxes, and floor that the set takes with the ways between its boxes, m². */
  cost: { boxes: number; widthM: number; depthM: number; floorM2: number }
  sheet: SheetLine[]
  /** Left–right and rows: offsets from the middle, at the front row's distance, of the lanes of strong and weak bass at frequencyHz, m, both sides, negative to the left (a delay shifts them). */
  lanes: { strongM: number[]; weakM: number[] } | null
}

/** The plan outdoors, from the origin, m. A wall behind cuts it short; in a hall the plan is the hall. */
export const steerPlanM = { halfWidth: 8, behind: 8, forward: 10 } as const

/** What the map shows: the set as it stands, or the same boxes stacked. */
export type SteerShow = 'set' | 'stacked'

/** Levels re the same boxes stacked, outdoors, straight ahead at the same distance; rows from the rear forward. */
export type SteerPicture = {
  columns: number
  rows: number
  xMinM: number
  xMaxM: number
  zMinM: number
  zMaxM: number
  levelDb: Float32Array
  inside: Uint8Array
}

/** What is heard: behind, the set against the stack; in front, the set against the stack; or the set, behind against front. */
export const steerCompares = ['behind', 'front', 'places'] as const
export type SteerCompare = (typeof steerCompares)[number]

export const polarStepDeg = 2

/** Lines of the curves, Hz: 1/24 octave from 25 to 200 Hz. */
export const steerLinesHz: readonly number[] = Array.from({ length: 73 }, (_, i) => 25 * 2 ** (i / 24))

export const steerBands: readonly Band[] = bandsBetween(31.5, 160)

/** A place is a row of listeners or a table so wide, in so many spots, at so high, m; its level is their energy average. */
export const listeningRow = { widthM: 2, spots: 5 } as const

export const steerRange = {
  spacingM: { min: 0.3, max: 12, step: 0.05 },
  delayS: { min: 0, max: 0.03, step: 0.0001 },
  levelDb: { min: -12, max: 6, step: 0.5 },
  gapM: { min: 0.1, max: 8, step: 0.05 },
  /** Distance of the places in front and behind from the origin along z, and sideways of both, m. */
  frontM: { min: 2, max: 10 },
  behindM: { min: 1, max: 8 },
  asideM: { min: -7, max: 7 },
  bandHz: { min: 30, max: 160 },
  frequencyHz: { min: 25, max: 200 },
  count: { min: 2, max: 6 },
} as const

/** Boxes that an arrangement may have. */
export const countRange: Record<Arrangement, { min: number; max: number }> = {
  pair: { min: 2, max: 2 },
  trio: { min: 3, max: 3 },
  'end-fire': { min: 2, max: 6 },
  row: { min: 2, max: 6 },
  'left-right': { min: 2, max: 2 },
}

/** Whether a set can be solved as one body where it stands: outdoors on hard ground, with a wall or without. */
export const isMirrored = (surroundings: SteerSurroundings): boolean =>
  surroundings.kind !== 'hall' && surroundings.floor === 'hard'

/** Why a question cannot be answered, for the page to say in the reader's units. */
export type SteerProblem =
  /** Boxes would stand in each other: the spacing that they need, m. */
  | { kind: 'overlap'; neededM: number }
  | { kind: 'count'; min: number; max: number }
  /** A value out of steerRange, by its key. */
  | { kind: 'range'; name: 'spacingM' | 'delayS' | 'levelDb' | 'gapM'; min: number; max: number }
  /** A box would stand outside the hall. */
  | { kind: 'outside-hall' }
  /** A listener would be inside a box, or outside the hall, or behind the wall. */
  | { kind: 'place'; which: 'front' | 'behind'; why: 'in-a-box' | 'outside-hall' | 'behind-wall' }
  | { kind: 'band' }

/** One setting that a search has tried. */
export type SteerCandidate = { set: SteerSet; merits: SteerMerits }

/** How much of the reader's band a setting covers by usableRule: all of it, or its widest part; null where it works in none. */
export type SteerCover = { whole: boolean; part: SteerBand | null }

/**
 * How much of a band a set covers. Each line of the curves stands for the step to the next, so that an end of the band which
 * is nearer than a step counts as reached.
 */
export function coverOf(usable: SteerBand | null, band: SteerBand): SteerCover {
  const step = 2 ** (1 / 24)
  if (!usable || usable.fromHz >= band.toHz || usable.toHz <= band.fromHz) return { whole: false, part: null }
  const whole = usable.fromHz <= band.fromHz * step && usable.toHz * step >= band.toHz
  const part = { fromHz: Math.max(usable.fromHz, band.fromHz), toHz: Math.min(usable.toHz, band.toHz) }
  return { whole, part: whole ? band : part }
}

/** What one spacing of a search has found: the setting that rejects most, and the one that covers most of the band by usableRule. */
export type SteerSearchFound = SteerCandidate & { tried: number; widest: SteerSet | null; widestBand: SteerBand | null }

/** What a search found. `helps` is false when even the best setting keeps less than usableRule's rejection; then it says so. */
export type SteerSuggestion = {
  textbook: SteerCandidate
  best: SteerCandidate
  helps: boolean
  /** The setting that covers most of the reader's band, of all that were tried; null where none works in any part of it. */
  widest: SteerCandidate | null
  /** How much of the band that is. */
  covers: SteerCover
  /** How many settings were tried. */
  tried: number
}

/**
 * A set with all its boxes in each other's way: outdoors, or before the wall that is behind it; in a hall outdoors instead.
 * There is nothing to solve for points, and for boxes that nearly touch: neededM is the gap from which on it can be done.
 */
export type SteerTogether =
  | { kind: 'solved'; alone: SteerCandidate; together: SteerCandidate; trimmed: SteerCandidate; curves: SteerCurves }
  | { kind: 'points' }
  | { kind: 'port' }
  | { kind: 'too-close'; gapM: number; neededM: number }

/** How far delay and level of the others are looked for round the present ones, when boxes are solved together. */
export const trimRange = { delayS: 0.002, levelDb: 3 } as const
