import type { ExpansionLine, ExpansionTable } from '../../acoustics/index.ts'
import type { PlannedLine } from './planned-lines.ts'
import type { LineAnswer, PlannedWay, TableFrame } from './solve-table.ts'

/** Fewest lines that a table can be interpolated from. */
export const fewestLines = 4

/** The tables of some ways while their lines arrive, in whatever order. */
export class GrowingTables {
  readonly #ways: readonly PlannedWay[]
  readonly #lines: Map<string, (ExpansionLine | undefined)[]>
  readonly #frames = new Map<string, TableFrame>()

  constructor(ways: readonly PlannedWay[]) {
    this.#ways = ways
    this.#lines = new Map(
      ways.map(({ key, frequenciesHz }) => [key, frequenciesHz.map((): ExpansionLine | undefined => undefined)]),
    )
  }

  /** Takes in what came of one question. */
  add({ keys, question }: PlannedLine, { lines, frame }: LineAnswer): void {
    for (const [set, key] of keys.entries()) {
      const way = this.#ways.find((planned) => planned.key === key)
      const place = way?.frequenciesHz.indexOf(question.frequencyHz) ?? -1
      ;(this.#lines.get(key) ?? [])[place] = lines[set]
      this.#frames.set(key, frame)
    }
  }

  /** The table of a way, or its first lines. */
  tableOf(key: string, count?: number): ExpansionTable {
    return {
      ...(this.#frames.get(key) as TableFrame),
      lines: (this.#lines.get(key) ?? []).slice(0, count).flatMap((line) => line ?? []),
    }
  }

  /** What can be used already, by key: each table as far as it has no gap. */
  usable(): [string, ExpansionTable][] {
    return this.#ways.flatMap(({ key }): [string, ExpansionTable][] => {
      const sofar = firstMissing(this.#lines.get(key) ?? [])
      return sofar >= fewestLines ? [[key, this.tableOf(key, sofar)]] : []
    })
  }
}

/** How many lines there are without a gap. */
function firstMissing(lines: (ExpansionLine | undefined)[]): number {
  const gap = lines.indexOf(undefined)
  return gap < 0 ? lines.length : gap
}
