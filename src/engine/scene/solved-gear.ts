import {
  type Air,
  type Cabinet,
  type CabinetModel,
  directionRadiation,
  type ExpansionTable,
  type Rig,
  type RigCabinet,
  sphereCabinet,
  tabulatedRadiation,
  unpackExpansionTables,
  type Way,
} from '../../acoustics/index.ts'

/** The demo rigs that have been solved beforehand, by name; src/tools/solve-gear.mjs makes their files. */
const solvedRigs = ['top-over-sub', 'column-on-base', 'compact-two-way'] as const
type SolvedRig = (typeof solvedRigs)[number]

/** Tables of solved cabinets, by cabinetKey. */
const tables = new Map<string, ExpansionTable>()
let revision = 0
const loading = new Map<SolvedRig, Promise<void>>()

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
 */
export async function loadSolvedRig(rig: Rig): Promise<void> {
  const name = solvedRigs.find((known) => known === rig.name)
  if (!name) return
  const known = loading.get(name) ?? readSolvedRig(name).then(addSolvedCabinets)
  loading.set(name, known)
  await known.catch((error: unknown) => {
    loading.delete(name)
    throw error
  })
}

/** The demo rigs' files are fetched in a browser and read from disk when the site is built or tested. */
async function readSolvedRig(name: SolvedRig): Promise<Uint8Array> {
  if (import.meta.env?.SSR ?? true) {
    const { readFile } = await import('node:fs/promises')
    return readFile(`content/gear/solved/${name}.bin`)
  }
  const addresses: Record<SolvedRig, URL> = {
    'top-over-sub': new URL('../../../content/gear/solved/top-over-sub.bin', import.meta.url),
    'column-on-base': new URL('../../../content/gear/solved/column-on-base.bin', import.meta.url),
    'compact-two-way': new URL('../../../content/gear/solved/compact-two-way.bin', import.meta.url),
  }
  const response = await fetch(addresses[name])
  if (!response.ok) throw new Error(`the solved cabinets of ${name} could not be fetched (${response.status})`)
  return new Uint8Array(await response.arrayBuffer())
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
