import {
  type BoxSize,
  boundaryElementCeilingHz,
  boxMeshKey,
  type Cabinet,
  type DirectionTable,
  type Driver,
  directionFrequenciesHz,
  directionTable,
  type ExpansionLine,
  type ExpansionTable,
  expansionLine,
  expansionRadiusM,
  highFrequencyLimitHz,
  highFrequencyPressures,
  type Rig,
  solveDriverSets,
  tabulatedRadiation,
} from '../../acoustics/index.ts'
import { airOf, usualAir } from '../scene/air.ts'
import { cabinetKey, waySolves } from '../scene/solved-gear.ts'
import {
  directionSpec,
  highestHz,
  lineSteps,
  type SolvingDetail,
  solvedCeilingHz,
  solvedFrequenciesHz,
} from './solved-frequencies.ts'

/** Tables are solved in the usual air, whatever the reader's is: they are told by wavenumber, and read in any air (tabulatedRadiation). */
const air = airOf(usualAir)

/** One frequency of one box: the driver sets that are to be solved there, each alone. */
export type LineQuestion = { box: BoxSize; driverSets: Driver[][]; frequencyHz: number }

/** What all lines of a box have in common. */
export type TableFrame = Omit<ExpansionTable, 'lines' | 'directions'>

/** A line for each driver set. */
export type LineAnswer = { lines: ExpansionLine[]; frame: TableFrame }

/** Solves some frequencies, one after the other; see solvedLines. */
export const solvedLineGroup = (questions: LineQuestion[]): { answers: LineAnswer[] } => ({
  answers: questions.map(solvedLines),
})

/** Solves one frequency of a box by boundary elements. Throws RangeError as solveDriverSets does. */
export function solvedLines({ box, driverSets, frequencyHz }: LineQuestion): LineAnswer {
  const expansions = solveDriverSets(box, driverSets, frequencyHz, air, { method: 'boundary-elements' }).map(
    ({ expansion }) => expansion,
  )
  const [first] = expansions
  if (!first) throw new RangeError('driverSets is empty; allowed is at least one set of drivers')
  return {
    lines: expansions.flatMap((expansion) => (expansion ? [expansionLine(expansion)] : [])),
    frame: {
      speedOfSoundMps: air.speedOfSoundMps,
      densityKgM3: air.densityKgM3,
      centreZM: first.centreZM,
      radiusM: first.radiusM,
    },
  }
}

/** The treble of a solved way, or a part of its frequencies; the last four lines of the table are enough. */
export type DirectionsQuestion = {
  cabinet: Cabinet
  table: ExpansionTable
  frequenciesHz: number[]
  detail: SolvingDetail
}

/** Levels all round above a table's last line, from the high-frequency model joined to that line. */
export function solvedDirections({ cabinet, table, frequenciesHz, detail }: DirectionsQuestion): DirectionTable {
  const fromHz = table.lines.at(-1)?.frequencyHz ?? 0
  const anchor = tabulatedRadiation(table, fromHz, air)
  const { perOctave: _, ...coarseness } = directionSpec[detail]
  return directionTable((points) => highFrequencyPressures(cabinet, air, anchor, points), {
    sourceYM: middleYM(cabinet.drivers),
    fromHz,
    frequenciesHz,
    lopsided: table.lines.some(({ lopsided }) => lopsided),
    ...coarseness,
  })
}

/** Height of the middle of some drivers, each by the strength with which it is driven. */
function middleYM(drivers: Driver[]): number {
  let weight = 0
  let moment = 0
  for (const { gain = 1, yM } of drivers) {
    weight += Math.abs(gain)
    moment += Math.abs(gain) * yM
  }
  return moment / weight
}

/** One way of a rig that is to be solved, and what its table is known by. */
export type PlannedWay = {
  key: string
  cabinet: Cabinet
  /** Frequencies of the lines, Hz, rising. */
  frequenciesHz: number[]
  /** For each of them the mesh that it is solved on, by name. */
  meshes: string[]
  /** Frequencies of the treble above the last line, Hz; none for a way that does not play there. */
  directionsHz: number[]
}

/** The rig that is to be solved, and how closely. */
export type PlanQuestion = { rig: Rig; detail: SolvingDetail }

/**
 * What has to be solved for a rig: each different way once. Ways that differ in their crossover alone are one, as far as
 * either of them plays. The hole of a port is solved as a way of its own.
 */
export function solvingPlan({ rig, detail }: PlanQuestion): { ways: PlannedWay[] } {
  const ways = new Map<string, Omit<PlannedWay, 'meshes'>>()
  const add = (cabinet: Cabinet, linesHz: number[], treble: (fromHz: number) => number[]) => {
    const key = cabinetKey(cabinet)
    const before = ways.get(key)
    const frequenciesHz = [...new Set([...(before?.frequenciesHz ?? []), ...linesHz])].sort((a, b) => a - b)
    const own = treble(frequenciesHz.at(-1) ?? 0)
    const directionsHz = own.length > 0 ? own : (before?.directionsHz ?? [])
    ways.set(key, { key, cabinet, frequenciesHz, directionsHz })
  }
  for (const rigCabinet of rig.cabinets) {
    for (const way of rigCabinet.ways) {
      const [drivers, ...holes] = waySolves(rigCabinet, way) as [Cabinet, ...Cabinet[]]
      const radianHz = air.speedOfSoundMps / (2 * Math.PI * expansionRadiusM(drivers))
      const ceilingHz = Math.min(solvedCeilingHz, boundaryElementCeilingHz(drivers, air))
      const frequenciesHz = solvedFrequenciesHz(way, lineSteps[detail], radianHz, ceilingHz)
      const reaches = (frequenciesHz.at(-1) ?? 0) >= ceilingHz
      add(drivers, frequenciesHz, (fromHz) => (reaches ? trebleHz(drivers, fromHz, detail) : []))
      // A port is not counted above the ceiling.
      for (const hole of holes) add(hole, frequenciesHz, () => [])
    }
  }
  const meshOf = (cabinet: Cabinet) => (frequencyHz: number) =>
    boxMeshKey(cabinet, (2 * Math.PI * frequencyHz) / air.speedOfSoundMps)
  return {
    ways: [...ways.values()].map((way) => ({ ...way, meshes: way.frequenciesHz.map(meshOf(way.cabinet)) })),
  }
}

/** Up to 25 kHz, or less where the model ends for a very large driver; a box that leaves no room for that has none. */
function trebleHz(cabinet: Cabinet, fromHz: number, detail: SolvingDetail): number[] {
  // The levels are averaged over a band, which reaches a twelfth of an octave beyond the last line.
  const toHz = Math.min(highestHz, highFrequencyLimitHz(cabinet, air) / 2 ** (1 / 12))
  return toHz > fromHz ? directionFrequenciesHz(fromHz, toHz, directionSpec[detail].perOctave) : []
}
