import { add } from '../../../src/acoustics/complex.ts'
import type { Way } from '../../../src/acoustics/field/rig.ts'
import { bassShare } from '../../../src/acoustics/hearing/bass-share.ts'
import type { Cabinet, Complex, Point, Rig } from '../../../src/acoustics/index.ts'
import { divide, magnitude, makeAir, multiply, zwickerLoudness } from '../../../src/acoustics/index.ts'
import { loadSolvedRig, solvedModel } from '../../../src/engine/scene/solved-gear.ts'
import { rigOf } from '../../demo-gear.ts'
import { grassFactor } from './plain-ground.ts'

// The demo rigs once more, with nothing of the engine between the cabinets' radiation and the level: crossovers by their
// quadratic factors, plain complex sums, energy over many lines in even steps of lg f. How a cabinet radiates is checked against
// other methods (box-other-method-…, panels-…).

export const rig: Rig = rigOf('top-over-sub')
await loadSolvedRig(rig)
export const air = makeAir()

const one: Complex = { re: 1, im: 0 }
/** 1/(1 + 2ζs + s²) with s = j·ratio for a low-pass and 1/(j·ratio) for a high-pass. */
function twoPoles(twoZeta: number, ratio: number): Complex {
  return divide(one, { re: 1 - ratio * ratio, im: twoZeta * ratio })
}

/** The two factors of a fourth-order slope: Linkwitz–Riley has √2 twice, Butterworth 2 cos 22.5° and 2 cos 67.5°. */
const factorsOf = { 'linkwitz-riley': [Math.SQRT2, Math.SQRT2], butterworth: [1.8477590650225735, 0.7653668647301796] }

export function crossover({ highPass, lowPass }: Way, frequencyHz: number): Complex {
  let response = one
  for (const [slope, sign] of [
    [highPass, -1],
    [lowPass, 1],
  ] as const) {
    if (!slope) continue
    if (slope.order !== 4) throw new Error('only slopes of the fourth order are written out here')
    const ratio = frequencyHz / slope.frequencyHz
    for (const factor of factorsOf[slope.alignment])
      response = multiply(response, twoPoles(factor, sign > 0 ? ratio : -1 / ratio))
  }
  return response
}

const voiced: Point = { xM: 0, yM: 1.6, zM: 4 }

/** What arrives from a rig at any place at one frequency in free air, the rig set flat at ear height 4 m in front. */
export function lineOf({ cabinets }: Rig, frequencyHz: number): (place: Point) => Complex {
  const parts = cabinets.flatMap(({ widthM, heightM, depthM, frontCentre, ways }) =>
    ways.map((way) => {
      const { pressureAt } = solvedModel({ widthM, heightM, depthM, drivers: way.drivers } as Cabinet, frequencyHz, air)
      const at = ({ xM, yM, zM }: Point) =>
        pressureAt({ xM: xM - frontCentre.xM, yM: yM - frontCentre.yM, zM: zM - frontCentre.zM })
      return { at, set: divide(crossover(way, frequencyHz), at(voiced)) }
    }),
  )
  return (place) => parts.reduce((sum, { at, set }) => add(sum, multiply(set, at(place))), { re: 0, im: 0 })
}

/** What arrives at a place from the lesson's rig in free air. */
export const freeAt = (place: Point, frequencyHz: number): Complex => lineOf(rig, frequencyHz)(place)

/** The same on hard ground: the place and its image under the ground. */
export function onGroundAt({ xM, yM, zM }: Point, frequencyHz: number): Complex {
  const line = lineOf(rig, frequencyHz)
  return add(line({ xM, yM, zM }), line({ xM, yM: -yM, zM }))
}
/** The same on grass: what comes from each cabinet's mirror image is what grass leaves of it. */
export function onGrassAt({ xM, yM, zM }: Point, frequencyHz: number): Complex {
  const mirrored = { xM, yM: -yM, zM }
  return rig.cabinets.reduce(
    (sum, cabinet) => {
      const line = lineOf({ ...rig, cabinets: [cabinet] }, frequencyHz)
      const back = multiply(line(mirrored), grassFactor(frequencyHz, cabinet.frontCentre, mirrored))
      return add(sum, add(line({ xM, yM, zM }), back))
    },
    { re: 0, im: 0 },
  )
}

/** Lines in a third octave on the ground: its comb has some twenty teeth in the highest one. */
export const groundLines = 120

/** Lines in even steps of lg f across a range of exact band edges. */
export const linesBetween = (lowHz: number, highHz: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => lowHz * (highHz / lowHz) ** ((i + 0.5) / count))

export const db = (power: number): number => 10 * Math.log10(power)
export const power = ({ re, im }: Complex): number => re * re + im * im
export const levelOf = (value: Complex): number => 20 * Math.log10(magnitude(value))

/** Pink noise over whole third octaves: mean square over many lines from the lowest edge to the highest, dB. */
export function pinkDb(at: (frequencyHz: number) => Complex, from: number, to: number, perBand = 24): number {
  const [low, high] = [
    10 ** (Math.round(10 * Math.log10(from)) / 10 - 0.05),
    10 ** (Math.round(10 * Math.log10(to)) / 10 + 0.05),
  ]
  const lines = linesBetween(low, high, perBand * Math.round(10 * Math.log10(high / low)))
  return db(lines.reduce((sum, hz) => sum + power(at(hz)), 0) / lines.length)
}
export const bassDb = (at: (frequencyHz: number) => Complex, perBand?: number): number => pinkDb(at, 40, 160, perBand)
export const trebleDb = (at: (frequencyHz: number) => Complex, perBand?: number): number =>
  pinkDb(at, 2000, 16000, perBand)

/** Nominal third octaves that are heard, 25 Hz to 16 kHz. */
const bandCentres = Array.from({ length: 29 }, (_, i) => 10 ** (1.4 + i / 10))
export const bandsDb = (at: (frequencyHz: number) => Complex, perBand = 24): number[] =>
  bandCentres.map((hz) =>
    db(linesBetween(hz * 10 ** -0.05, hz * 10 ** 0.05, perBand).reduce((sum, f) => sum + power(at(f)), 0) / perBand),
  )

/** A weighting by the formula of IEC 61672-1 with its printed poles, dB. */
export function aDb(hz: number): number {
  const f2 = hz * hz
  const [p1, p2, p3, p4] = [20.6, 107.7, 737.9, 12194].map((pole) => pole * pole) as [number, number, number, number]
  return 20 * Math.log10((p4 * f2 * f2) / ((f2 + p1) * Math.sqrt((f2 + p2) * (f2 + p3)) * (f2 + p4))) + 2
}

/** A-weighted level over the third octaves that are heard, dB. */
export const aWeightedDb = (at: (frequencyHz: number) => Complex): number =>
  db(bandsDb(at).reduce((sum, level, i) => sum + 10 ** ((level + aDb(bandCentres[i] as number)) / 10), 0))

/** Loudness where the rig gives so many dB(A) where it is set flat; the loudness itself is ISO 532-1 (loudness-signal-…). */
export function heardAt(
  at: (frequencyHz: number) => Complex,
  perBand = 24,
  field: 'free' | 'diffuse' = 'free',
  dbA = 85,
): { sones: number; share: number; bassSones: number } {
  const lift = dbA - aWeightedDb((hz) => freeAt(voiced, hz))
  const loudness = zwickerLoudness(
    bandsDb(at, perBand)
      .slice(0, 28)
      .map((level) => level + lift),
    field,
  )
  const share = bassShare(loudness.specific)
  return { sones: loudness.sones, share, bassSones: share * loudness.sones }
}

/** Halving between two abscissas on either side of a crossing. */
export function crossing(of: (x: number) => number, low: number, high: number, rounds = 40): number {
  const side = Math.sign(of(low))
  if (Math.sign(of(high)) === side) return Number.NaN
  let [a, b] = [low, high]
  for (let round = 0; round < rounds; round++) {
    const middle = (a + b) / 2
    if (Math.sign(of(middle)) === side) a = middle
    else b = middle
  }
  return (a + b) / 2
}
