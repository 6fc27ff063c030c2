import { describe, expect, test } from 'vitest'
import { thirdOctaveLevelsDb } from '../../../../../src/acoustics/index.ts'
import { type SentTest, sentNoise } from '../../../../../src/engine/questions/compare/sent.ts'
import { heardBands } from '../../../../../src/engine/scene/third-octaves.ts'

const estimate = (levelDb: number) => ({ levelDb, errorDb: 0.2, freedom: 20 })
const frontDb = heardBands.map((_, band) => -30 - 0.2 * band + (band % 3))
const behindDb = heardBands.map((_, band) => -31 - 1.1 * Math.max(0, band - 9))
const sent: SentTest = {
  bands: heardBands.map((_, band) => {
    const [front, behind] = [frontDb[band] ?? 0, behindDb[band] ?? 0]
    return {
      levels: { front: estimate(front), behind: estimate(behind) },
      difference: estimate(front - behind),
    }
  }),
  detail: null,
  geometry: { front: { distanceM: 2.5 }, behind: { distanceM: 2.5 } },
  wallsAreEntered: true,
  bringTogether: false,
  air: { temperatureC: 20, humidityPct: 50 },
}
const levelsOf = (samples: Float32Array) => thirdOctaveLevelsDb(samples, 48000, heardBands)
/** Levels against the first band that both have, so that loudness does not count. */
const shape = (levels: ArrayLike<number>, from: number) =>
  Array.from(levels, (level) => level - (levels[from] as number))

describe('noise of what was measured', () => {
  test('has the band levels of both places', () => {
    const noise = sentNoise({ sent })
    for (const [place, wanted] of [
      ['front', frontDb],
      ['behind', behindDb],
    ] as const) {
      const made = shape(levelsOf(noise?.[place].samples ?? new Float32Array(1)), 10)
      // 0.2 dB: the filter is good to 0.1 dB in every band, and the reference band as well.
      for (const [band, level] of shape(wanted, 10).entries())
        expect(Math.abs((made[band] ?? 99) - level), `${place} ${heardBands[band]?.nominalHz} Hz`).toBeLessThan(0.2)
    }
  })

  test('says its A-weighted level, to which both are matched', () => {
    const noise = sentNoise({ sent })
    const byHand = (samples: Float32Array) => {
      // Weightings of IEC 61672-1, Table 3, at the bands from 25 Hz on.
      const weights = [
        -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2, -1.9, -0.8, 0,
        0.6, 1, 1.2, 1.3, 1.2, 1, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6,
      ]
      const powers = [...levelsOf(samples)].map((level, band) => 10 ** ((level + (weights[band] ?? 0)) / 10))
      return 10 * Math.log10(powers.reduce((sum, power) => sum + power, 0))
    }
    // 0.1 dB: the table is rounded to 0.1.
    for (const place of ['front', 'behind'] as const)
      expect(
        Math.abs((noise?.[place].aWeightedDb ?? 0) - byHand(noise?.[place].samples ?? new Float32Array(1))),
      ).toBeLessThan(0.1)
  })

  test('fills a band that was not measured from its neighbours, and falls away beyond the last', () => {
    const gaps = { ...sent, bands: sent.bands.map((band, at) => (at === 12 || at > 24 ? null : band)) }
    const made = levelsOf(sentNoise({ sent: gaps })?.behind.samples ?? new Float32Array(1))
    const [below, there, above] = [made[11], made[12], made[13]] as [number, number, number]
    expect(Math.abs(there - (below + above) / 2)).toBeLessThan(0.2)
    expect(made[28] as number).toBeLessThan((made[24] as number) - 15)
  })

  test('of nothing that was measured there is none', () => {
    expect(sentNoise({ sent: { ...sent, bands: heardBands.map(() => null) } })).toBeNull()
  })
})
