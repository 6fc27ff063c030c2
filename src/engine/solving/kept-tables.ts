import { type ExpansionTable, isExpansionTable } from '../../acoustics/index.ts'
import { makeRoom } from '../../acoustics/make-room.ts'
import type { PlannedWay } from './solve-table.ts'
import { solvedVersion } from './solved-frequencies.ts'

/**
 * Where solved tables outlive the page. None of these may throw, reject or wait for ever: a place that refuses or is silent
 * is one that has nothing.
 */
export type TableStore = {
  read(key: string): Promise<unknown>
  keep(key: string, table: ExpansionTable): Promise<void>
  /** Forgets a table that cannot be used. */
  drop(key: string): Promise<void>
}

/** Tables solved since the page was opened, newest last. */
const kept = new Map<string, ExpansionTable>()
const mostKept = 24

/** What a table is kept under: everything that it depends on. */
export const storeKey = ({ key, frequenciesHz }: PlannedWay): string =>
  `${solvedVersion} ${frequenciesHz.length} ${frequenciesHz[0]} ${frequenciesHz.at(-1)} ${key}`

/** The table of a way, if the page or the store has it. What the store has spoilt or of another version goes. */
export async function knownTable(way: PlannedWay, store: TableStore | undefined): Promise<ExpansionTable | undefined> {
  const inPage = kept.get(storeKey(way))
  if (inPage) return inPage
  const value = await store?.read(storeKey(way))
  if (value === undefined) return undefined
  if (isTableOf(way, value)) return value
  await store?.drop(storeKey(way))
  return undefined
}

/** Keeps a table as long as the page is open and no newer ones take its place. */
export function keepInPage(way: PlannedWay, table: ExpansionTable): void {
  const key = storeKey(way)
  kept.delete(key)
  makeRoom(kept, mostKept)
  kept.set(key, table)
}

/** Whether what the store gave is the table that is meant, whole: at the frequencies of the plan, every number finite. */
const isTableOf = ({ frequenciesHz, directionsHz }: PlannedWay, value: unknown): value is ExpansionTable =>
  isExpansionTable(value) &&
  alike(
    value.lines.map(({ frequencyHz }) => frequencyHz),
    frequenciesHz,
  ) &&
  alike(value.directions?.frequenciesHz ?? [], directionsHz)

const alike = (a: number[], b: number[]): boolean => a.length === b.length && a.every((value, i) => value === b[i])
