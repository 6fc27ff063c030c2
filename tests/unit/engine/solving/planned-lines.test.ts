import { describe, expect, test } from 'vitest'
import { lineGroups, type PlannedLine } from '../../../../src/engine/solving/planned-lines.ts'
import { treblePieces } from '../../../../src/engine/solving/treble-pieces.ts'
import { solvingWorkers } from '../../../../src/engine/workers/solve-rig.ts'

const line = (frequencyHz: number, mesh: string): PlannedLine => ({
  question: { box: { widthM: 0.3, heightM: 0.5, depthM: 0.3 }, driverSets: [], frequencyHz },
  keys: [],
  mesh,
})

describe('how the work is shared out', () => {
  test('lines of one mesh go together, five at most, and every line goes once', () => {
    const lines = [
      ...Array.from({ length: 7 }, (_, i) => line(100 + 10 * i, i % 2 ? 'sub' : 'top')),
      ...Array.from({ length: 6 }, (_, i) => line(500 + 10 * i, 'fine')),
    ]
    const groups = lineGroups(lines)
    expect(groups.map((group) => group.map(({ mesh }) => mesh))).toEqual([
      ['top', 'top', 'top', 'top'],
      ['sub', 'sub', 'sub'],
      ['fine', 'fine', 'fine', 'fine', 'fine'],
      ['fine'],
    ])
    const sorted = groups.flat().sort((a, b) => a.question.frequencyHz - b.question.frequencyHz)
    expect(sorted).toEqual(lines)
  })

  test('the highest treble comes first, and every frequency once', () => {
    const directionsHz = [2000, 2500, 3200, 4000, 5000, 6300, 8000]
    const cabinet = { widthM: 0.3, heightM: 0.5, depthM: 0.3, drivers: [] }
    const pieces = treblePieces([{ key: 'one', cabinet, frequenciesHz: [], meshes: [], directionsHz }])
    expect(pieces.map(({ frequenciesHz }) => frequenciesHz)).toEqual([[8000], [4000, 5000, 6300], [2000, 2500, 3200]])
  })

  test('as many workers as cores, up to four', () => {
    expect([1, 2, 3, 4, 16].map((cores) => solvingWorkers(cores))).toEqual([1, 2, 3, 4, 4])
    expect(solvingWorkers(undefined)).toBe(2)
  })
})
