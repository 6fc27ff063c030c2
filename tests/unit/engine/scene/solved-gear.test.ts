import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import {
  expansionLine,
  makeAir,
  type SolvedCabinet,
  solveCabinet,
  unpackExpansionTables,
} from '../../../../src/acoustics/index.ts'
import type { OutgoingExpansion } from '../../../../src/acoustics/radiation/outgoing-expansion.ts'
import { solveHint } from '../../../../src/engine/scene/solved-files.ts'
import {
  cabinetKey,
  loadSolvedRig,
  solvedModel,
  solvedToHz,
  wayCabinet,
} from '../../../../src/engine/scene/solved-gear.ts'
import { solvingPlan } from '../../../../src/engine/solving/solve-table.ts'
import { solvedCeilingHz } from '../../../../src/engine/solving/solved-frequencies.ts'
import { demoRigNames, rigOf } from '../../../demo-gear.ts'

const air = makeAir()

function expansionOf({ expansion }: SolvedCabinet): OutgoingExpansion {
  if (!expansion) throw new Error('solved without an expansion')
  return expansion
}
const names = demoRigNames()
const fileOf = (name: string) => unpackExpansionTables(readFileSync(`content/gear/solved/${name}.bin`))

describe.each(names)('the solved cabinets of %s', (name) => {
  const rig = rigOf(name)
  const tables = fileOf(name)
  const ways = rig.cabinets.flatMap((cabinet) => cabinet.ways.map((way) => ({ box: wayCabinet(cabinet, way) })))

  test('are there for every way, at the planned frequencies, and for nothing else', () => {
    const { ways: planned } = solvingPlan({ rig, detail: 'beforehand' })
    expect([...tables.keys()].sort()).toEqual(planned.map(({ key }) => key).sort())
    for (const { key, frequenciesHz, directionsHz } of planned) {
      expect(tables.get(key)?.lines.map(({ frequencyHz }) => frequencyHz)).toEqual(frequenciesHz)
      expect(tables.get(key)?.directions?.frequenciesHz ?? []).toEqual(directionsHz)
    }
    expect(planned.length).toBe(ways.length)
  })

  test('match what solving them again gives', () => {
    for (const { box } of ways) {
      const lines = tables.get(cabinetKey(box))?.lines ?? []
      // Three lines of each: all of them would take a minute.
      for (const line of [lines[0], lines[Math.floor(lines.length / 2)], lines[lines.length - 8]]) {
        if (!line) throw new Error('a table without lines')
        const fresh = expansionLine(
          expansionOf(solveCabinet(box, line.frequencyHz, air, { method: 'boundary-elements' })),
        )
        expect(fresh.order).toBe(line.order)
        const largest = Math.max(...Array.from(fresh.re, Math.abs), ...Array.from(fresh.im, Math.abs))
        const worst = Math.max(
          ...Array.from(fresh.re, (value, t) => Math.abs(value - (line.re[t] ?? Number.NaN))),
          ...Array.from(fresh.im, (value, t) => Math.abs(value - (line.im[t] ?? Number.NaN))),
        )
        // 16 bits of the largest value.
        expect(worst / largest, `${line.frequencyHz} Hz`).toBeLessThan(2e-5)
      }
    }
  })
})

test('a rig is computed by the closed form until its file is loaded, and by its tables afterwards', async () => {
  const rig = rigOf('compact-two-way')
  const [cabinet] = rig.cabinets
  const [way] = cabinet?.ways ?? []
  if (!cabinet || !way) throw new Error('the rig has no way')
  const box = wayCabinet(cabinet, way)
  expect(solvedToHz(box)).toBe(0)
  const before = solvedModel(box, 1000, air).farFieldDb(Math.PI, 0)
  await loadSolvedRig(rig)
  expect(solvedToHz(box)).toBeCloseTo(solvedCeilingHz, 6)
  const after = solvedModel(box, 1000, air).farFieldDb(Math.PI, 0)
  expect(after).toBeCloseTo(solveCabinet(box, 1000, air).farFieldDb(Math.PI, 0), 1)
  expect(Math.abs(after - before)).toBeGreaterThan(0.2)
})

test.each([-10, 35])('at %i °C the tables give what solving anew in that air gives', async (temperatureC) => {
  const rig = rigOf('compact-two-way')
  await loadSolvedRig(rig)
  const there = makeAir({ temperatureC })
  const [cabinet] = rig.cabinets
  const [low, high] = cabinet?.ways ?? []
  if (!cabinet || !low || !high) throw new Error('the rig has no two ways')
  const places = [0, 1.4, 2.6, 3.1].map((angle) => ({ xM: 3 * Math.sin(angle), yM: 0.2, zM: 3 * Math.cos(angle) }))
  for (const way of [low, high]) {
    const box = wayCabinet(cabinet, way)
    const ceilingHz = solvedToHz(box, there)
    expect(ceilingHz / solvedToHz(box)).toBeCloseTo(there.speedOfSoundMps / air.speedOfSoundMps, 12)
    for (const frequencyHz of way === low ? [60, 500, 1500] : [1000, ceilingHz]) {
      const [kept, anew] = [
        solvedModel(box, frequencyHz, there),
        solveCabinet(box, frequencyHz, there, { method: 'boundary-elements' }),
      ]
      for (const place of places) {
        const [a, b] = [kept.pressureAt(place), anew.pressureAt(place)]
        // 2 %: what interpolating between twelve lines an octave and rounding to 16 bits leave (0.06 dB), and meshes that differ.
        expect(Math.hypot(a.re - b.re, a.im - b.im) / Math.hypot(b.re, b.im), `${frequencyHz} Hz`).toBeLessThan(0.02)
      }
    }
    // No step where the levels take over from the lines.
    const level = (frequencyHz: number) =>
      places.map((place) => {
        const { re, im } = solvedModel(box, frequencyHz, there).pressureAt(place)
        return 20 * Math.log10(Math.hypot(re, im))
      })
    const [below, above] = [level(ceilingHz * (1 - 1e-6)), level(ceilingHz * (1 + 1e-6))]
    for (const [index, dB] of below.entries()) expect(above[index]).toBeCloseTo(dB, 2)
  }
})

test('every file of solved cabinets belongs to a rig', () => {
  const files = readdirSync('content/gear/solved').filter((file) => file.endsWith('.bin'))
  expect(files.sort()).toEqual(names.map((name) => `${name}.bin`).sort())
})

test('a demo rig whose cabinets have changed since it was solved is refused, and how to mend it is said', async () => {
  const rig = rigOf('top-over-sub')
  const changed = { ...rig, cabinets: rig.cabinets.map((each) => ({ ...each, depthM: each.depthM + 0.01 })) }
  await expect(loadSolvedRig(changed)).rejects.toThrow(
    `top-over-sub.json: cabinet “top”, way “woofer” has changed since; ${solveHint('top-over-sub')}`,
  )
  await expect(loadSolvedRig(rig)).resolves.toBeUndefined()
})

test('a rig of the reader’s own has no file', async () => {
  await expect(loadSolvedRig({ ...rigOf('compact-two-way'), name: 'mine' })).resolves.toBeUndefined()
})

test('the key of a cabinet does not depend on the order in which its words were written', () => {
  const box = { widthM: 0.3, heightM: 0.4, depthM: 0.3 }
  const one = cabinetKey({ ...box, drivers: [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0.05 }] })
  expect(cabinetKey({ ...box, drivers: [{ yM: 0.05, xM: 0, radiusM: 0.1, kind: 'piston' }] })).toBe(one)
  expect(cabinetKey({ ...box, drivers: [{ kind: 'piston', radiusM: 0.1, xM: 0, yM: 0.06 }] })).not.toBe(one)
})
