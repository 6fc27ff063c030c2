import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { energySumDb } from '../../../../src/acoustics/bands/decibels.ts'
import { lateShare } from '../../../../src/acoustics/field/hall-levels.ts'
import { radiatedPowerW } from '../../../../src/acoustics/field/radiated-power.ts'
import {
  bandLevelsDb,
  furnishedHall,
  type Hall,
  hallField,
  hallLevels,
  hallSurfaces,
  makeAir,
  monopole,
  octaveTable,
  type PlacedSource,
  type Point,
  type Rig,
  reverberantLevelDb,
  rigField,
  rigSources,
  thirdOctaveBands,
} from '../../../../src/acoustics/index.ts'
import { seededRandom } from '../../../../src/acoustics/signals/seeded-random.ts'

const air = makeAir()
const source: PlacedSource = {
  radiation: (frequencyHz) => monopole(frequencyHz, air),
  position: { xM: -2, yM: 1.1, zM: 3 },
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
}
const hall = (absorption: number): Hall => ({ lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => absorption })
const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8')) as Rig

describe('levels in a hall', () => {
  it('sum of images and statistics agree on average over places above the joining frequency, within 1 dB', () => {
    for (const absorption of [0.1, 0.25]) {
      const levels = hallLevels([source], hall(absorption), air)
      const random = seededRandom(7)
      let images = 0
      let statistics = 0
      for (let i = 0; i < 8; i++) {
        const frequencyHz = 200 + 20 * random()
        const field = hallField([source], hall(absorption), frequencyHz, air)
        for (let j = 0; j < 60; j++) {
          const place: Point = { xM: -5.4 + 10.8 * random(), yM: 0.1 + 4.4 * random(), zM: 0.1 + 17.8 * random() }
          const { re, im } = field(place)
          images += re * re + im * im
          statistics += levels.meanSquareAt(place, frequencyHz, 'line')
        }
      }
      expect(Math.abs(10 * Math.log10(images / statistics))).toBeLessThan(1)
    }
  })

  it('are the sum of images alone well below the joining frequency', () => {
    const levels = hallLevels([source], hall(0.15), air)
    const place = { xM: 1, yM: 1.5, zM: 9 }
    const { re, im } = hallField([source], hall(0.15), 40, air)(place)
    expect(levels.joiningHz).toBeGreaterThan(60)
    expect(levels.meanSquareAt(place, 40, 'line')).toBeCloseTo(re * re + im * im, 9)
  })

  it('go over from the one to the other without a step', () => {
    const levels = hallLevels([source], hall(0.15), air)
    const place = { xM: 1, yM: 1.5, zM: 9 }
    for (const edgeHz of [levels.joiningHz / Math.SQRT2, levels.joiningHz * Math.SQRT2]) {
      const [below, above] = [edgeHz * (1 - 1e-7), edgeHz * (1 + 1e-7)].map((f) =>
        levels.meanSquareAt(place, f, 'line'),
      )
      expect((above as number) / (below as number)).toBeCloseTo(1, 4)
    }
  })

  it('late sound has the level of the reverberant field less what early images cover', () => {
    const levels = hallLevels([source], hall(0.1), air)
    const powerDb = 10 * Math.log10(radiatedPowerW([source], 1000, air) / 1e-12)
    // Mean square of the peak amplitude is twice that of the rms value; both in Pa².
    const expected = reverberantLevelDb(powerDb, hall(0.1), 1000, air) + 20 * Math.log10(20e-6) + 10 * Math.log10(2)
    const share = 10 * Math.log10(lateShare(1.2, air))
    expect(share).toBeGreaterThan(-2)
    const late = 10 * Math.log10(levels.lateMeanSquare(1000))
    expect(late).toBeLessThan(expected)
    expect(late).toBeGreaterThan(expected - 3)
    expect(lateShare(0, air)).toBe(0)
    expect(lateShare(1000, air)).toBeCloseTo(1, 2)
  })

  it('far from a source in a hard hall approach the reverberant level; in a soft one the direct sound', () => {
    const place = { xM: 4, yM: 1.5, zM: 15 }
    const bands = thirdOctaveBands(1000, 1000)
    const [hard] = hallLevels([source], hall(0.03), air).bandLevelsDb(place, bands)
    const [soft] = hallLevels([source], hall(1), air).bandLevelsDb(place, bands)
    const [free] = bandLevelsDb((f) => monopole(f, air).pressureAt({ xM: 6, yM: 0.4, zM: 12 }), bands)
    expect(Math.abs((soft as number) - (free as number))).toBeLessThan(0.6)
    expect((hard as number) - (soft as number)).toBeGreaterThan(12)
  })

  it('refuse places outside the hall and frequencies out of range', () => {
    const levels = hallLevels([source], hall(0.15), air)
    expect(() => levels.meanSquareAt({ xM: 0, yM: 5, zM: 3 }, 100, 'line')).toThrow('listener.yM is 5')
    expect(() => levels.meanSquareAt({ xM: 0, yM: 1, zM: 3 }, 5, 'line')).toThrow('frequencyHz is 5')
    expect(() => hallLevels([{ ...source, position: { xM: 0, yM: -1, zM: 0 } }], hall(0.1), air)).toThrow(
      'sources[0].position.yM',
    )
  })
})

describe('power of several sources', () => {
  it('is four times one’s for two in step and close, nothing for two in opposition, twice far apart', () => {
    const one = radiatedPowerW([source], 50, air)
    const moved = (xM: number, polarity: 1 | -1 = 1): PlacedSource => ({
      ...source,
      polarity,
      position: { ...source.position, xM },
    })
    expect(radiatedPowerW([moved(-2), moved(-1.99)], 50, air) / one).toBeCloseTo(4, 3)
    expect(radiatedPowerW([moved(-2), moved(-1.99, -1)], 50, air) / one).toBeLessThan(1e-3)
    expect(radiatedPowerW([moved(-200), moved(200)], 500, air) / radiatedPowerW([source], 500, air)).toBeCloseTo(2, 2)
    // Two in step at a distance d: 2 (1 + sin kd/kd)
    const kd = ((2 * Math.PI * 50) / air.speedOfSoundMps) * 3
    expect(radiatedPowerW([moved(0), moved(3)], 50, air) / one).toBeCloseTo(2 * (1 + Math.sin(kd) / kd), 4)
    expect(radiatedPowerW([], 50, air)).toBe(0)
  })
})

describe('a rig’s sources', () => {
  it('sum to the rig’s transfer function, also voiced at a place', () => {
    for (const voicedAt of [undefined, { xM: 0, yM: 1.6, zM: 4 }]) {
      const field = rigField(rig, air, undefined, voicedAt)
      const sources = rigSources(rig, air, undefined, undefined, voicedAt)
      for (const frequencyHz of [50, 100, 2000]) {
        const place = { xM: 1.5, yM: 1.6, zM: 3 }
        const expected = field.transferAt(place, frequencyHz)
        let [re, im] = [0, 0]
        for (const { radiation, position } of sources) {
          const p = radiation(frequencyHz).pressureAt({
            xM: place.xM - position.xM,
            yM: place.yM - position.yM,
            zM: place.zM - position.zM,
          })
          re += p.re
          im += p.im
        }
        expect(re).toBeCloseTo(expected.re, 9)
        expect(im).toBeCloseTo(expected.im, 9)
      }
    }
  })
  it('move and turn with the rig', () => {
    const [top] = rigSources(rig, air, undefined, { position: { xM: 2, yM: 0, zM: 1 }, yawRad: Math.PI / 2 })
    expect(top?.position.xM).toBeCloseTo(2, 12)
    expect(top?.position.yM).toBeCloseTo(1.9, 12)
    expect(top?.yawRad).toBe(Math.PI / 2)
  })
})

describe('the halls of the site', () => {
  type Finishes = {
    frequenciesHz: number[]
    finishes: Record<string, { absorption: number[]; source: string }>
    people: Record<string, { absorption: number[]; perM2: number; source: string }>
  }
  const table = JSON.parse(readFileSync('content/halls/finishes.json', 'utf8')) as Finishes
  const grange = JSON.parse(readFileSync('content/halls/tidewater-grange.json', 'utf8'))
  it('have finishes with a coefficient from 0 to 1 in every octave, and a source', () => {
    const all = [...Object.entries(table.finishes), ...Object.entries(table.people)]
    expect(new Set(all.map(([id]) => id)).size).toBe(all.length)
    for (const [id, { absorption, source: from }] of all) {
      expect(absorption.length, id).toBe(table.frequenciesHz.length)
      for (const value of absorption) expect(value >= 0 && value <= 1, id).toBe(true)
      expect(from === 'value from memory' || existsSync(`content/sources/${from}.json`), `${id}: ${from}`).toBe(true)
    }
  })
  it('make a hall whose decay falls with people in it', () => {
    const finishOf = (id: string) => table.finishes[id]?.absorption as number[]
    const surfaces = Object.fromEntries(
      hallSurfaces.map((surface) => [surface, octaveTable(table.frequenciesHz, finishOf(grange.surfaces[surface]))]),
    ) as NonNullable<Hall['surfaces']>
    const kind = table.people[grange.audience.kind]
    const perPerson = octaveTable(table.frequenciesHz, kind?.absorption as number[])
    const full = furnishedHall(grange, surfaces, (f) => (grange.audience.people * perPerson(f)) / (kind?.perM2 ?? 1))
    const empty = furnishedHall(grange, surfaces)
    for (const { centreHz } of thirdOctaveBands(25, 12500)) {
      expect(full.absorption(centreHz)).toBeGreaterThan(empty.absorption(centreHz))
      expect(full.absorption(centreHz)).toBeLessThan(0.5)
    }
    const sources = rigSources(rig, air, undefined, { position: { xM: -3, yM: 0, zM: 2 }, yawRad: 0 })
    const bands = thirdOctaveBands(31.5, 8000)
    const [loud, quiet] = [empty, full].map((each) =>
      energySumDb(hallLevels(sources, each, air).bandLevelsDb({ xM: 3, yM: 1.6, zM: 15 }, bands, 3)),
    )
    expect(loud).toBeGreaterThan(quiet as number)
  })
})
