import type { ChartPoint } from '../../charts/chart-path.ts'
import { spectrumRangeDb } from '../../charts/spectrum-range.ts'
import { columnAnswer } from '../../engine/questions/column/column.ts'
import { columnLengthM, patternDeg } from '../../engine/questions/column/column-terms.ts'
import { hallAnswer } from '../../engine/questions/hall/hall-parts.ts'
import { hornAnswer } from '../../engine/questions/horn/horn.ts'
import { steerAnswerInFull } from '../../engine/questions/steer/solved-set.ts'
import { steerLinesHz } from '../../engine/questions/steer/steer-terms.ts'
import { walkAnswer } from '../../engine/questions/walk/walk.ts'
import { wallAnswer } from '../../engine/questions/wall/wall.ts'
import { narrowBands } from '../../engine/questions/wall/wall-terms.ts'
import { demoHallStates } from '../../engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import { spectrumBands } from '../../engine/scene/third-octaves.ts'
import { defaultState } from '../../state/share-link.ts'
import { keptAtBuild } from '../../widgets/at-build/kept-at-build.ts'
import { columnLink, columnOf } from '../../widgets/column/column-link.ts'
import { contourCurve, drawnPhons } from '../../widgets/equal-loudness/contour-curves.ts'
import { hallPartsLink, questionOf as hallQuestion } from '../../widgets/hall-parts/hall-parts-link.ts'
import { beamwidthCurve } from '../../widgets/horn/beamwidth-curve.ts'
import { hornLink, questionOf as hornQuestion } from '../../widgets/horn/horn-link.ts'
import { bandDomainHz, boxRangeDb } from '../../widgets/own-box/box-chart-range.ts'
import { boxOfDesign, canonicalDesign, designOfCabinet } from '../../widgets/own-box/box-design.ts'
import { solvedAtBuild } from '../../widgets/own-box/solved-at-build.ts'
import { demoRigs } from '../../widgets/rig-choice/demo-rigs.ts'
import { questionOf as steerQuestion } from '../../widgets/steer-bass/steer-bass-link.ts'
import { firstSteerState } from '../../widgets/steer-bass/steer-preset.ts'
import { firstWallState, questionOf as wallQuestion } from '../../widgets/wall-distance/wall-distance-link.ts'
import { decimalText } from '../../words/numbers.ts'
import * as say from './preview.messages.ts'
import type { PreviewKind } from './preview-kinds.ts'

/** A line of a preview's chart; its name stands at one of its points, above or below. */
export type PreviewLine = {
  points: ChartPoint[]
  role: 'front' | 'behind' | 'other'
  label: string
  labelAt: number
  above: boolean
}
/** What a preview draws: the curves that the page's figure shows first, or others of the same idea. */
export type PreviewChart = {
  x: 'frequency' | 'angle'
  yLabel: string
  xDomain: readonly [number, number]
  yDomain: readonly [number, number]
  lines: PreviewLine[]
  /** What the curves are computed for. */
  caption: string
}

const kept = new Map<PreviewKind, Promise<PreviewChart>>()

/** The chart of one kind, computed once a build by the questions that the figures ask. */
export function previewChart(kind: PreviewKind): Promise<PreviewChart> {
  const chart = kept.get(kind) ?? charts[kind]()
  kept.set(kind, chart)
  return chart
}

const [lowHz, highHz] = [28, 18_000]
const walkDistanceM = 2

/** The rig that figures begin with, its solved cabinets at hand. */
async function firstRig() {
  const rigs = await demoRigs()
  const [first] = rigs
  if (!first) throw new Error('No rig in content/gear')
  await loadSolvedRig(first.rig)
  return { ...first, keys: rigs.map(({ key }) => key) }
}

/** Levels by third octave as points, none below the chart. */
const spectrum = (levels: readonly number[]): ChartPoint[] =>
  spectrumBands.map(({ nominalHz }, index) => ({ x: nominalHz, y: levels[index] ?? 0 }))

const walkChart = async (angleRad: number, name: string, role: PreviewLine['role']): Promise<PreviewChart> => {
  const { rig, short } = await firstRig()
  const answer = walkAnswer({ rig, place: { angleRad, distanceM: walkDistanceM }, datum: 'front-face' })
  return {
    x: 'frequency',
    yLabel: say.levelFront(),
    xDomain: [lowHz, highHz],
    yDomain: spectrumRangeDb,
    lines: [
      { points: spectrum(answer.frontDb), role: 'front', label: say.front(), labelAt: 400, above: true },
      { points: spectrum(answer.hereDb), role, label: name, labelAt: 1000, above: false },
    ],
    caption: say.ofRig({ rig: short, distance: walkDistanceM }),
  }
}

async function wallChart(): Promise<PreviewChart> {
  const { rig, keys, short } = await firstRig()
  const { frontDb, frontFreeDb } = wallAnswer(wallQuestion(firstWallState(keys, rig), rig))
  const points = (levels: readonly number[]) =>
    narrowBands.map(({ centreHz }, index) => ({ x: centreHz, y: levels[index] ?? 0 }))
  return {
    x: 'frequency',
    yLabel: say.levelFront(),
    xDomain: [narrowBands[0]?.centreHz ?? 25, narrowBands.at(-1)?.centreHz ?? 500],
    yDomain: [-18, 9],
    lines: [
      { points: points(frontFreeDb), role: 'other', label: say.withoutWall(), labelAt: 40, above: true },
      { points: points(frontDb), role: 'front', label: say.withWall(), labelAt: 90, above: true },
    ],
    caption: say.ofWall({ rig: short }),
  }
}

async function hallChart(): Promise<PreviewChart> {
  const { rig, keys, short } = await firstRig()
  const state = { ...defaultState(hallPartsLink(keys)), xM: 0, zM: -2.5 }
  const question = hallQuestion(state, rig, demoHallStates)
  const { here } = keptAtBuild('hall-answer', state, () => hallAnswer(question))
  return {
    x: 'frequency',
    yLabel: say.levelFront(),
    xDomain: [lowHz, highHz],
    yDomain: spectrumRangeDb,
    lines: [
      { points: spectrum(here.directDb), role: 'other', label: say.boxAlone(), labelAt: 1000, above: false },
      { points: spectrum(here.totalDb), role: 'behind', label: say.withHall(), labelAt: 4000, above: true },
    ],
    caption: say.ofHall({ rig: short }),
  }
}

async function steerChart(): Promise<PreviewChart> {
  const { rig, keys } = await firstRig()
  const { curves } = steerAnswerInFull(steerQuestion(firstSteerState(keys, 'pair', rig), rig, demoHallStates))
  const points = (levels: readonly number[]) => steerLinesHz.map((x, index) => ({ x, y: levels[index] ?? 0 }))
  return {
    x: 'frequency',
    yLabel: say.levelStacked(),
    xDomain: [steerLinesHz[0] ?? 25, steerLinesHz.at(-1) ?? 200],
    yDomain: [-36, 12],
    lines: [
      { points: points(curves.frontDb), role: 'front', label: say.front(), labelAt: 48, above: false },
      { points: points(curves.stackedBehindDb), role: 'other', label: say.stackedBehind(), labelAt: 40, above: true },
      { points: points(curves.behindDb), role: 'behind', label: say.steeredBehind(), labelAt: 63, above: false },
    ],
    caption: say.ofSteer(),
  }
}

async function lanesChart(): Promise<PreviewChart> {
  const { rig, keys } = await firstRig()
  // To the left of the middle, where the two subs' ways differ.
  const state = { ...firstSteerState(keys, 'left-right', rig), frontXM: -2.9 }
  const { curves } = steerAnswerInFull(steerQuestion(state, rig, demoHallStates))
  const points = (levels: readonly number[]) => steerLinesHz.map((x, index) => ({ x, y: levels[index] ?? 0 }))
  return {
    x: 'frequency',
    yLabel: say.levelStacked(),
    xDomain: [steerLinesHz[0] ?? 25, steerLinesHz.at(-1) ?? 200],
    yDomain: [-24, 12],
    lines: [
      { points: points(curves.stackedFrontDb), role: 'other', label: say.together(), labelAt: 45, above: true },
      { points: points(curves.frontDb), role: 'front', label: say.apart(), labelAt: 100, above: false },
    ],
    caption: say.ofLanes({ aside: -state.frontXM }),
  }
}

async function hornChart(): Promise<PreviewChart> {
  const state = defaultState(hornLink)
  const { curve, letsGoHz } = hornAnswer(hornQuestion(state))
  return {
    x: 'frequency',
    yLabel: say.beamwidth(),
    xDomain: [lowHz, highHz],
    yDomain: [0, 200],
    lines: [
      {
        points: beamwidthCurve(curve.points, state.mouthM),
        role: 'front',
        label: say.horn(),
        labelAt: letsGoHz * 1.6,
        above: false,
      },
    ],
    caption: say.ofHorn({ mouth: Math.round(100 * state.mouthM), angle: state.coverageDeg }),
  }
}

async function columnChart(): Promise<PreviewChart> {
  const column = columnOf(defaultState(columnLink))
  const { verticalDb, bassVerticalDb } = columnAnswer({ column, frequencyHz: 2000 })
  const points = (levels: readonly number[]) =>
    patternDeg.flatMap((x, index) => (Math.abs(x) <= 90 ? [{ x, y: levels[index] ?? 0 }] : []))
  return {
    x: 'angle',
    yLabel: say.levelAhead(),
    xDomain: [-90, 90],
    yDomain: [-42, 6],
    lines: [
      { points: points(bassVerticalDb), role: 'other', label: say.bass(), labelAt: 60, above: true },
      { points: points(verticalDb), role: 'front', label: say.treble(), labelAt: 0, above: true },
    ],
    caption: say.ofColumn({ length: decimalText(columnLengthM(column), 1) }),
  }
}

async function earChart(): Promise<PreviewChart> {
  return {
    x: 'frequency',
    yLabel: say.levelSpl(),
    xDomain: [20, 12_500],
    yDomain: [0, 120],
    lines: drawnPhons.map((phon) => ({
      points: contourCurve(phon),
      role: 'front',
      label: say.phon({ phon }),
      labelAt: 500,
      above: true,
    })),
    caption: say.ofEar(),
  }
}

async function boxChart(): Promise<PreviewChart> {
  const { rig } = await firstRig()
  const [cabinet] = rig.cabinets
  const design = cabinet && designOfCabinet(cabinet)
  if (!design) throw new Error('The first cabinet of the first rig does not fit the form of the own box')
  const bands = solvedAtBuild(boxOfDesign(canonicalDesign(design)))
  const points = (level: (band: (typeof bands)[number]) => number) =>
    bands.map((band) => ({ x: band.nominalHz, y: level(band) }))
  return {
    x: 'frequency',
    yLabel: say.levelFront(),
    xDomain: bandDomainHz,
    yDomain: boxRangeDb,
    lines: [
      { points: points(() => 0), role: 'front', label: say.front(), labelAt: 400, above: true },
      {
        points: points(({ rearDb }) => rearDb),
        role: 'behind',
        label: say.behindThisBox(),
        labelAt: 800,
        above: false,
      },
    ],
    caption: say.ofBox(),
  }
}

const charts: Record<PreviewKind, () => Promise<PreviewChart>> = {
  behind: () => walkChart(Math.PI, say.behind(), 'behind'),
  beside: () => walkChart(Math.PI / 2, say.beside(), 'other'),
  wall: wallChart,
  hall: hallChart,
  steer: steerChart,
  lanes: lanesChart,
  horn: hornChart,
  column: columnChart,
  ear: earChart,
  box: boxChart,
}
