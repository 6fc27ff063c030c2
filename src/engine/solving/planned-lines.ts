import type { LineQuestion, PlannedWay } from './solve-table.ts'

/** One question of a plan, with the keys of the ways that its answer's lines belong to. */
export type PlannedLine = { question: LineQuestion; keys: string[]; mesh: string }

/**
 * The questions that some ways come to: ways of one box are asked for together at the frequencies that they share. They rise
 * in frequency, so that the quick ones come first.
 */
export function plannedLines(ways: readonly PlannedWay[]): PlannedLine[] {
  const lines = new Map<string, PlannedLine>()
  for (const { key, cabinet, frequenciesHz, meshes } of ways) {
    const { widthM, heightM, depthM, drivers } = cabinet
    for (const [index, frequencyHz] of frequenciesHz.entries()) {
      const place = JSON.stringify([widthM, heightM, depthM, frequencyHz])
      const line = lines.get(place) ?? {
        question: { box: { widthM, heightM, depthM }, driverSets: [], frequencyHz },
        keys: [],
        mesh: meshes[index] ?? '',
      }
      line.question.driverSets.push(drivers)
      line.keys.push(key)
      lines.set(place, line)
    }
  }
  return [...lines.values()].sort((a, b) => a.question.frequencyHz - b.question.frequencyHz)
}

/** Most lines that are asked for at once, so that progress is told often. */
const mostTogether = 5

/**
 * Planned lines in groups that one worker takes: neighbours of one box that share their mesh, whose quadrature is then made once. Groups
 * rise in frequency by their first line.
 */
export function lineGroups(planned: readonly PlannedLine[]): PlannedLine[][] {
  const groups: PlannedLine[][] = []
  const open = new Map<string, PlannedLine[]>()
  for (const line of planned) {
    const group = open.get(line.mesh)
    if (group && group.length < mostTogether) group.push(line)
    else {
      const begun = [line]
      open.set(line.mesh, begun)
      groups.push(begun)
    }
  }
  return groups
}
