import { describe, expect, test } from 'vitest'
import { magnitude } from '../../../../src/acoustics/complex.ts'
import { makeAir } from '../../../../src/acoustics/medium/air.ts'
import type { Cabinet } from '../../../../src/acoustics/radiation/cabinet.ts'
import { packExpansionTables, unpackExpansionTables } from '../../../../src/acoustics/radiation/expansion-file.ts'
import {
  type ExpansionTable,
  expansionLine,
  keptTerms,
  tabulatedRadiation,
} from '../../../../src/acoustics/radiation/expansion-table.ts'
import type { OutgoingExpansion } from '../../../../src/acoustics/radiation/outgoing-expansion.ts'
import { type SolvedCabinet, solveCabinet } from '../../../../src/acoustics/radiation/solve-cabinet.ts'

const air = makeAir()

function expansionOf({ expansion }: SolvedCabinet): OutgoingExpansion {
  if (!expansion) throw new Error('solved without an expansion')
  return expansion
}
const box: Cabinet = {
  widthM: 0.32,
  heightM: 0.56,
  depthM: 0.3,
  drivers: [{ kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.12 }],
}

function tableOf(cabinet: Cabinet, fromHz: number, linesPerOctave: number): ExpansionTable {
  const expansions = [0, 1, 2, 3].map((step) =>
    expansionOf(solveCabinet(cabinet, fromHz * 2 ** (step / linesPerOctave), air)),
  )
  return {
    speedOfSoundMps: air.speedOfSoundMps,
    densityKgM3: air.densityKgM3,
    centreZM: expansions[0]?.centreZM ?? 0,
    radiusM: expansions[0]?.radiusM ?? 0,
    lines: expansions.map((expansion) => expansionLine(expansion)),
  }
}
const places = [0, 45, 90, 135, 180].flatMap((angle) =>
  [0.6, 2.5].map((r) => ({
    xM: r * Math.sin((angle * Math.PI) / 180),
    yM: 0.1,
    zM: r * Math.cos((angle * Math.PI) / 180),
  })),
)

describe('a table of expansions', () => {
  const table = tableOf(box, 800, 12)

  test('gives a solved line back', () => {
    const frequencyHz = table.lines[1]?.frequencyHz ?? 0
    const [solved, kept] = [solveCabinet(box, frequencyHz, air), tabulatedRadiation(table, frequencyHz, air)]
    for (const place of places) {
      const ratioDb = 20 * Math.log10(magnitude(kept.pressureAt(place)) / magnitude(solved.pressureAt(place)))
      // 0.05 dB: orders below 1e-3 of the r.m.s. pressure on the enclosing sphere are left out.
      expect(Math.abs(ratioDb)).toBeLessThan(0.05)
    }
    expect(kept.directivityIndexDb).toBeCloseTo(solved.directivityIndexDb, 3)
  })

  test('between lines a twelfth of an octave apart agrees with a fresh solution within 0.05 dB', () => {
    const frequencyHz = 800 * 2 ** (1.5 / 12)
    const [solved, between] = [solveCabinet(box, frequencyHz, air), tabulatedRadiation(table, frequencyHz, air)]
    for (const place of places) {
      const [a, b] = [between.pressureAt(place), solved.pressureAt(place)]
      expect(Math.abs(20 * Math.log10(magnitude(a) / magnitude(b)))).toBeLessThan(0.05)
      expect(Math.abs(Math.atan2(a.im * b.re - a.re * b.im, a.re * b.re + a.im * b.im))).toBeLessThan(0.01)
    }
  })

  test('in warmer air the same wavenumber sounds the same, but for ρc', () => {
    const warm = makeAir({ temperatureC: 35 })
    const frequencyHz = 850
    const same = (frequencyHz * warm.speedOfSoundMps) / air.speedOfSoundMps
    const [cold, hot] = [tabulatedRadiation(table, frequencyHz, air), tabulatedRadiation(table, same, warm)]
    const place = { xM: 0.7, yM: 0, zM: -1 }
    const loudness = (warm.densityKgM3 * warm.speedOfSoundMps) / (air.densityKgM3 * air.speedOfSoundMps)
    expect(magnitude(hot.pressureAt(place)) / magnitude(cold.pressureAt(place))).toBeCloseTo(loudness, 9)
  })

  test('refuses a frequency outside its lines', () => {
    expect(() => tabulatedRadiation(table, 799, air)).toThrow('frequencyHz is 799')
    expect(() => tabulatedRadiation(table, 1000, air)).toThrow('frequencyHz is 1000')
  })

  test.each(['re', 'im'] as const)('refuses a table with a number in %s that is not finite', (part) => {
    const lines = table.lines.map((line) => ({ ...line, [part]: Float64Array.from(line[part]) }))
    const [line] = lines
    if (!line) throw new Error('no line')
    ;(line[part] as Float64Array)[3] = Number.NaN
    expect(() => tabulatedRadiation({ ...table, lines }, 810, air)).toThrow('table holds a number that is not finite')
  })

  test('tells power, directivity and far field of an expansion, in whatever order they are asked for', () => {
    const [one, other] = [tabulatedRadiation(table, 850, air), tabulatedRadiation(table, 850, air)]
    const [aside, powerW] = [one.farFieldDb(0.8, 0.1), one.powerW]
    expect(other.powerW).toBe(powerW)
    expect(other.directivityIndexDb).toBe(one.directivityIndexDb)
    expect(other.farFieldDb(0.8, 0.1)).toBe(aside)
    // Far away the level re the axis is that of the far field.
    const far = 1e4
    const [h, v] = [0.8, 0.1]
    const at = one.pressureAt({
      xM: far * Math.sin(h) * Math.cos(v),
      yM: far * Math.sin(v),
      zM: far * Math.cos(h) * Math.cos(v),
    })
    const ahead = one.pressureAt({ xM: 0, yM: 0, zM: far })
    expect(20 * Math.log10(magnitude(at) / magnitude(ahead))).toBeCloseTo(aside, 2)
  })

  test('keeps both sides of a source that is not alike left and right, and half as much of one that is', () => {
    const lopsided: Cabinet = { ...box, drivers: [{ kind: 'piston', radiusM: 0.05, xM: 0.08, yM: 0.1 }] }
    const table = tableOf(lopsided, 800, 12)
    const [line] = table.lines
    expect(line?.lopsided).toBe(true)
    expect(line?.re.length).toBe(((line?.order ?? 0) + 1) ** 2)
    const frequencyHz = 800 * 2 ** (1.5 / 12)
    const bytes = packExpansionTables(new Map([['box', table]]))
    const kept = tabulatedRadiation(unpackExpansionTables(bytes).get('box') ?? table, frequencyHz, air)
    const solved = solveCabinet(lopsided, frequencyHz, air)
    for (const { xM, yM, zM } of places) {
      for (const place of [
        { xM, yM, zM },
        { xM: -xM, yM, zM },
      ]) {
        const ratioDb = 20 * Math.log10(magnitude(kept.pressureAt(place)) / magnitude(solved.pressureAt(place)))
        expect(Math.abs(ratioDb)).toBeLessThan(0.05)
      }
    }
    // Left and right differ, or this would be no test of sides.
    expect(Math.abs(kept.farFieldDb(1, 0) - kept.farFieldDb(-1, 0))).toBeGreaterThan(0.5)
  })

  test('survives its file within the 16 bits of each term', () => {
    const bytes = packExpansionTables(new Map([['box', table]]))
    const back = unpackExpansionTables(bytes).get('box')
    for (const [i, line] of table.lines.entries()) {
      const read = back?.lines[i]
      expect(read?.frequencyHz).toBe(line.frequencyHz)
      const largest = Math.max(...Array.from(line.re, Math.abs), ...Array.from(line.im, Math.abs))
      for (let t = 0; t < keptTerms(line); t++) {
        expect(Math.abs((read?.re[t] ?? 0) - (line.re[t] ?? 0))).toBeLessThan(largest / 60000)
        expect(Math.abs((read?.im[t] ?? 0) - (line.im[t] ?? 0))).toBeLessThan(largest / 60000)
      }
    }
  })

  test('says what is wrong with bytes that are no such file', () => {
    const bytes = packExpansionTables(new Map([['box', table]]))
    expect(() => unpackExpansionTables(new Uint8Array(3))).toThrow('not a file of solved cabinets')
    expect(() => unpackExpansionTables(bytes.slice(0, -2))).toThrow('cut short')
    const newer = bytes.slice()
    const at = new TextDecoder().decode(newer.subarray(4)).indexOf('"version":2') + 4 + '"version":'.length
    newer[at] = '9'.charCodeAt(0)
    expect(() => unpackExpansionTables(newer)).toThrow('layout 9')
  })
})
