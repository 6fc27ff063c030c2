import { describe, expect, test } from 'vitest'
import { makeAir } from '../../../src/acoustics/index.ts'
import { airFromAddress, roundedAir, siteAirRanges, usualAir, withAir } from '../../../src/state/site-air.ts'

const read = (query: string) => airFromAddress(new URLSearchParams(query))

test('the usual air is the one that the acoustics take when nothing is said, and every air allowed is one they know', () => {
  expect(makeAir()).toMatchObject({
    temperatureC: usualAir.temperatureC,
    relativeHumidityPct: usualAir.humidityPct,
  })
  for (const end of ['min', 'max'] as const) {
    const temperatureC = siteAirRanges.temperatureC[end]
    const relativeHumidityPct = siteAirRanges.humidityPct[end]
    expect(makeAir({ temperatureC, relativeHumidityPct })).toMatchObject({ temperatureC, relativeHumidityPct })
  }
})

test('rounding keeps what is no number from passing for 0', () => {
  expect(roundedAir(Number.NaN)).toBeNaN()
  expect(Object.is(roundedAir(-0.04), 0)).toBe(true)
})

describe('an address', () => {
  test('without air asks for nothing and drops nothing', () => {
    expect(read('walk.angleDeg=30&airy=1,2')).toEqual({ dropped: [] })
  })

  test.each([
    ['air=12,80', { temperatureC: 12, humidityPct: 80 }],
    ['air=12%2C80', { temperatureC: 12, humidityPct: 80 }],
    ['air=-10,0', { temperatureC: -10, humidityPct: 0 }],
    ['air=45,100', { temperatureC: 45, humidityPct: 100 }],
    ['air=21.12,49.96', { temperatureC: 21.1, humidityPct: 50 }],
    ['air=-0,-0', { temperatureC: 0, humidityPct: 0 }],
  ])('%s gives its air', (query, air) => {
    const reading = read(query)
    expect(reading).toEqual({ air, dropped: [] })
    for (const value of Object.values(reading.air ?? {})) expect(Object.is(value, -0)).toBe(false)
  })

  test.each([
    '',
    '12',
    '12,80,1',
    '12;80',
    ',',
    'warm,damp',
    'NaN,50',
    '1e1,50',
    'Infinity,50',
    '-10.1,50',
    '45.1,50',
    '20,-0.1',
    '20,100.1',
    `20,${'5'.repeat(5000)}`,
  ])('air=%.20s is dropped with what is allowed, in a short line', (text) => {
    const { air, dropped } = read(new URLSearchParams({ air: text }).toString())
    expect(air).toBeUndefined()
    expect(dropped).toHaveLength(1)
    expect(dropped[0]).toContain('−10 to 45 °C and 0 to 100 %')
    expect(dropped[0]?.length).toBeLessThan(120)
  })
})

describe('a link', () => {
  test('carries the air and leaves everything else as it was', () => {
    const params = new URLSearchParams('walk.v=1&walk.angleDeg=30&air=1,2')
    const next = withAir(params, { temperatureC: 12, humidityPct: 80 })
    expect(Object.fromEntries(next)).toEqual({ 'walk.v': '1', 'walk.angleDeg': '30', air: '12,80' })
    expect(params.get('air')).toBe('1,2')
  })

  test('leaves the usual air out', () => {
    expect(withAir(new URLSearchParams('a=1&air=12,80'), usualAir).toString()).toBe('a=1')
  })

  test('reads back as it was written over the whole range', () => {
    for (let temperatureC = -10; temperatureC <= 45; temperatureC += 5.5) {
      for (let humidityPct = 0; humidityPct <= 100; humidityPct += 12.5) {
        const air = { temperatureC, humidityPct }
        const { air: back = usualAir, dropped } = airFromAddress(withAir(new URLSearchParams(), air))
        expect([back, dropped]).toEqual([air, []])
      }
    }
  })
})
