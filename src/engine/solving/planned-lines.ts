import type { LineQuestion, PlannedWay } from './solve-table.ts'

/** One question of a plan, with the keys of the ways that its answer's lines belong to. */
export type PlannedLine = { question: LineQuestion; keys: string[] }

/**
 * The questions that some ways come to: ways of one box are asked for together at the frequencies that they share. They rise
 * in frequency, so that the quick ones come first.
 */
export function plannedLines(ways: readonly PlannedWay[]): PlannedLine[] {
  const lines = new Map<string, PlannedLine>()
  for (const { key, cabinet, frequenciesHz } of ways) {
    const { widthM, heightM, depthM, drivers } = cabinet
    for (const frequencyHz of frequenciesHz) {
      const place = JSON.stringify([widthM, heightM, depthM, frequencyHz])
      const line = lines.get(place) ?? {
        question: { box: { widthM, heightM, depthM }, driverSets: [], frequencyHz },
        keys: [],
      }
      line.question.driverSets.push(drivers)
      line.keys.push(key)
      lines.set(place, line)
    }
  }
  return [...lines.values()].sort((a, b) => a.question.frequencyHz - b.question.frequencyHz)
}
