import {
  type Air,
  type Cabinet,
  type CabinetModel,
  directionRadiation,
  type ExpansionTable,
  holeOnFront,
  type Rig,
  type RigCabinet,
  sphereCabinet,
  tabulatedRadiation,
  unpackExpansionTables,
  type Way,
} from '../../acoustics/index.ts'
import { readSolvedFile, solveHint } from './solved-files.ts'

/** Tables of solved cabinets, by cabinetKey. */
const tables = new Map<string, ExpansionTable>()
let revision = 0
/** Files of solved cabinets that were asked for, by the name of their rig. */
const loading = new Map<string, Promise<boolean>>()

/** What makes two cabinets radiate alike: outer size and drivers, in a fixed order of words. */
export function cabinetKey({ widthM, heightM, depthM, drivers }: Cabinet): string {
  const plain = drivers.map((driver) => Object.fromEntries(Object.entries(driver).sort(([a], [b]) => (a < b ? -1 : 1))))
  return JSON.stringify([widthM, heightM, depthM, plain])
}

/** One way's cabinet as the acoustics module takes it. */
export const wayCabinet = ({ widthM, heightM, depthM }: RigCabinet, { drivers }: Way): Cabinet => ({
  widthM,
  heightM,
  depthM,
  drivers,
})

/** All that has to be solved for a way: its drivers and, each alone, the hole of its port (see holeOnFront). */
export function waySolves(cabinet: RigCabinet, way: Way): Cabinet[] {
  const box = wayCabinet(cabinet, way)
  return way.port ? [box, holeOnFront(box, way.port)] : [box]
}

/** Takes in the table of one solved cabinet; one that is known under the key is replaced. */
export function addSolvedCabinet(key: string, table: ExpansionTable): void {
  tables.set(key, table)
  revision += 1
}

/** Takes in a file of solved cabinets. Throws Error in plain words if it is none. */
export function addSolvedCabinets(bytes: Uint8Array): void {
  for (const [key, table] of unpackExpansionTables(bytes)) addSolvedCabinet(key, table)
}

/**
 * Makes sure that the solved cabinets of a demo rig are at hand. A rig of the reader's own has no file: until it has been
 * solved (see solveRig) it is computed by the closed form.
 *
 * @throws Error in plain words if the file cannot be had, or does not belong to the cabinets; the next call tries again
 */
export async function loadSolvedRig(rig: Rig): Promise<void> {
  const { name } = rig
  const known = loading.get(name) ?? takeInFile(rig)
  loading.set(name, known)
  try {
    const isDemoRig = await known
    // A reader may give a rig of their own the name of a demo rig. Where the site is built there are none: a gap is a mistake.
    if (isDemoRig && (import.meta.env?.SSR ?? true)) requireSolved(rig)
  } catch (error) {
    loading.delete(name)
    throw error
  }
}

/** Whether there is a file for the rig, which is then taken in. */
async function takeInFile(rig: Rig): Promise<boolean> {
  const file = await readSolvedFile(rig)
  if (file) addSolvedCabinets(file)
  return file !== undefined
}

/** Throws Error for the first way of a rig that has no solved cabinet. */
function requireSolved(rig: Rig): void {
  for (const cabinet of rig.cabinets) {
    const missing = cabinet.ways.find((way) => waySolves(cabinet, way).some((box) => !tables.has(cabinetKey(box))))
    if (!missing) continue
    throw new Error(
      `content/gear/solved/${rig.name}.bin does not belong to content/gear/${rig.name}.json: cabinet “${cabinet.name}”, ` +
        `way “${missing.name}” has changed since; ${solveHint(rig.name)}`,
    )
  }
}

/** A number that changes whenever a solved cabinet is taken in: what was computed before is then out of date. */
export const solvedRevision = (): number => revision

/** A frequency of an air with the wavenumber of a table's frequency: what a cabinet does hangs on that. */
const inAirHz = (tableHz: number, table: ExpansionTable, air: Air): number =>
  (tableHz * air.speedOfSoundMps) / table.speedOfSoundMps

/** Highest frequency up to which a cabinet has been solved by boundary elements, Hz, in an air or in the one of its table; 0 if it has not. */
export function solvedToHz(cabinet: Cabinet, air?: Air): number {
  const table = tables.get(cabinetKey(cabinet))
  const lastHz = table?.lines.at(-1)?.frequencyHz ?? 0
  return table && air ? inAirHz(lastHz, table, air) : lastHz
}

/** From where to where a cabinet has been solved by boundary elements, and up to where levels all round follow, Hz; empty if it has not. */
export function solvedRangeHz(cabinet: Cabinet, air: Air): { fromHz: number; toHz: number; estimateToHz: number } {
  const table = tables.get(cabinetKey(cabinet))
  if (!table) return { fromHz: Number.POSITIVE_INFINITY, toHz: 0, estimateToHz: 0 }
  const at = (tableHz: number | undefined) => inAirHz(tableHz ?? 0, table, air)
  return {
    fromHz: at(table.lines[0]?.frequencyHz),
    toHz: at(table.lines.at(-1)?.frequencyHz),
    estimateToHz: at(table.directions?.frequenciesHz.at(-1)),
  }
}

/**
 * How a cabinet radiates: from its table if it has been solved, above that from the high-frequency levels all round; the
 * closed form where neither reaches. Tables hold for every air, see tabulatedRadiation and directionRadiation.
 */
export const solvedModel: CabinetModel = (cabinet: Cabinet, frequencyHz: number, air: Air) => {
  const table = tables.get(cabinetKey(cabinet))
  if (!table || frequencyHz < inAirHz(table.lines[0]?.frequencyHz ?? 0, table, air)) {
    return sphereCabinet(cabinet, frequencyHz, air)
  }
  const lastHz = inAirHz(table.lines.at(-1)?.frequencyHz ?? 0, table, air)
  if (frequencyHz <= lastHz) return tabulatedRadiation(table, frequencyHz, air)
  if (!table.directions || frequencyHz > inAirHz(table.directions.frequenciesHz.at(-1) ?? 0, table, air)) {
    return sphereCabinet(cabinet, frequencyHz, air)
  }
  return directionRadiation(table.directions, frequencyHz, air, tabulatedRadiation(table, lastHz, air), table)
}
