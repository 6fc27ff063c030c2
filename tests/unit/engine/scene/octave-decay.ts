import { lateShare } from '../../../../src/acoustics/field/hall-levels.ts'
import {
  absorptionDbPerM,
  type Band,
  type Complex,
  decayTimeS,
  divide,
  fromPolar,
  type HallSurface,
  hallField,
  monopole,
  multiply,
  type PlacedSource,
  type PlanPoint,
  type Point,
  type Radiation,
  realDft,
  squaredMagnitude,
  statisticalShare,
  wayResponse,
} from '../../../../src/acoustics/index.ts'
import { inverseRealDft } from '../../../../src/acoustics/signals/dft.ts'
import { airOf } from '../../../../src/engine/scene/air.ts'
import { voicedAt } from '../../../../src/engine/scene/free-field.ts'
import { directLevelsDb, type HallRig, hallLevelsAt } from '../../../../src/engine/scene/hall-rig.ts'
import { earHeightM } from '../../../../src/engine/scene/scene-terms.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'
import { plainImages, splitCorrection } from '../../acoustics/field/plain-images.ts'

const air = airOf()

// What the decay of an octave of a response ought to be, worked out from the hall and not from the response.

/** The octave filter that both are heard through, without phase: flat, with edges a fifth of an octave wide. */
export function octaveGain(frequencyHz: number, centreHz: number): number {
  const off = frequencyHz > 0 ? Math.abs(Math.log2(frequencyHz / centreHz)) : 9
  return off < 0.4 ? 1 : off > 0.6 ? 0 : Math.cos((Math.PI / 2) * ((off - 0.4) / 0.2)) ** 2
}

/** One octave of a response, from its first sample on. */
export function octaveOf(response: ArrayLike<number>, centreHz: number, sampleRateHz: number): Float64Array {
  const total = 2 * response.length
  const padded = new Float64Array(total)
  // Silence first: the filter has no phase and spreads to both sides.
  padded.set(response, response.length / 2)
  const { re, im } = realDft(padded)
  for (let k = 0; k < re.length; k++) {
    const gain = octaveGain((k * sampleRateHz) / total, centreHz)
    re[k] = (re[k] as number) * gain
    im[k] = (im[k] as number) * gain
  }
  return inverseRealDft({ re, im }, total).subarray(response.length / 2)
}

const stepS = 0.002

/**
 * Decay time from −5 to −25 dB of an octave, as the hall's own laws have it: by third octave the direct sound, an exponential decay at the
 * hall's decay time from it on (early images and tail hand over to each other, by energy evenly), and below the join of images and
 * statistics the plain sum of images of a point source, each with the energy that the levels give it, cut and faded as the response is.
 */
export const expectedDecayS = (parts: HallRig, place: PlanPoint, centreHz: number, lengthS: number): number =>
  decayOf(expectedDensity(parts, place, centreHz, lengthS))

/** The same decay as a curve: what is left of the energy, dB, every stepS after the direct sound, from −5 to −25 dB. */
export const expectedCurveDb = (parts: HallRig, place: PlanPoint, centreHz: number, lengthS: number) =>
  curveOf(expectedDensity(parts, place, centreHz, lengthS))

function expectedDensity(parts: HallRig, place: PlanPoint, centreHz: number, lengthS: number): Float64Array {
  const { free } = parts
  const steps = Math.ceil(lengthS / stepS)
  const density = new Float64Array(steps)
  const { total } = hallLevelsAt(parts, place)
  const direct = directLevelsDb(free, place)
  const plain = plainImagesOf(parts, place, centreHz, steps)
  const power = (levelsDb: Float64Array, band: number) => 10 ** ((levelsDb[band] as number) / 10)
  for (const [index, band] of heardBands.entries()) {
    const lines = Array.from({ length: 24 }, (_, i) => band.lowerHz + ((i + 0.5) / 24) * (band.upperHz - band.lowerHz))
    const through = lines.reduce((sum, frequencyHz) => sum + octaveGain(frequencyHz, centreHz) ** 2, 0) / lines.length
    if (through === 0) continue
    const width = through * (band.upperHz - band.lowerHz)
    const statistics = statisticalShare(band.centreHz, parts.levels.joiningHz)
    const directSquare = power(direct, index)
    // Where images have no part all that is not direct is reverberant; where they have, the reverberant field is told by its own formula.
    let reverberant = Math.max(0, power(total, index) - directSquare)
    if (statistics < 0.99) {
      plain.inBand(band, centreHz).forEach((energy, i) => {
        density[i] = (density[i] as number) + energy
      })
      const bandDecayS = decayTimeS(parts.hall, band.centreHz, air)
      reverberant = parts.levels.lateMeanSquare(band.centreHz) / lateShare(bandDecayS, air)
    }
    density[0] = (density[0] as number) + width * statistics * directSquare
    const perStep = (6 * Math.LN10 * stepS) / decayTimeS(parts.hall, band.centreHz, air)
    for (let i = 0; i < steps; i++) {
      const part = Math.exp(-perStep * i) * (1 - Math.exp(-perStep))
      density[i] = (density[i] as number) + width * statistics * reverberant * part
    }
  }
  const faded = Math.floor(0.1 * steps)
  for (let i = 0; i < faded; i++) {
    density[steps - 1 - i] = (density[steps - 1 - i] as number) * Math.sin((Math.PI / 2) * (i / faded)) ** 8
  }
  return density
}

const plainRateHz = 1024
const plainLastsS = 3.25

/**
 * The plain sum of images of the rig's cabinets as point sources, each through its crossover and in step where the rig is set flat, at the
 * absorption of the octave's centre.
 */
function plainImagesOf(parts: HallRig, place: PlanPoint, centreHz: number, steps: number) {
  const { hall, free } = parts
  const listener = parts.toHall({ ...place, yM: earHeightM })
  const length = plainLastsS * plainRateHz
  const total = 2 * length
  const points = free.rig.cabinets.map((cabinet) => {
    const { xM, yM, zM } = cabinet.frontCentre
    const voicedM = Math.hypot(voicedAt.xM - xM, voicedAt.yM - yM, voicedAt.zM - zM)
    return {
      position: parts.toHall(cabinet.frontCentre),
      /** Drive for which the sum of the points' e^{−jkr}/r is what the crossovers give, where the rig is set flat. */
      drive: (frequencyHz: number): Complex => {
        const ways = cabinet.ways.map((way) => wayResponse(way, frequencyHz))
        const whole = { re: ways.reduce((sum, { re }) => sum + re, 0), im: ways.reduce((sum, { im }) => sum + im, 0) }
        return multiply(whole, fromPolar(voicedM, (2 * Math.PI * frequencyHz * voicedM) / air.speedOfSoundMps))
      },
    }
  })
  const spectrum = once(() => {
    const alpha = (surface: HallSurface) => hall.surfaces?.[surface](centreHz) ?? 0
    const alphas = [
      [alpha('wallLeft'), alpha('wallRight')],
      [alpha('floor'), alpha('ceiling')],
      [alpha('wallBehind'), alpha('wallOpposite')],
    ] as const
    const airLossPerM = (absorptionDbPerM(centreHz, air) * Math.LN10) / 20
    const spec = { sampleRateHz: plainRateHz, length, speedOfSoundMps: air.speedOfSoundMps, airLossPerM }
    const sum = { re: new Float64Array(length + 1), im: new Float64Array(length + 1) }
    for (const { position, drive } of points) {
      const padded = new Float64Array(total)
      padded.set(plainImages({ ...hall, alphas }, position, listener, spec))
      const { re, im } = realDft(padded)
      for (let k = 1; k < length; k++) {
        const atHz = (k * plainRateHz) / total
        if (atHz > 4 * centreHz) break
        const driven = multiply({ re: re[k] as number, im: im[k] as number }, drive(atHz))
        const correction = splitCorrection(atHz, plainRateHz)
        sum.re[k] = (sum.re[k] as number) + correction * driven.re
        sum.im[k] = (sum.im[k] as number) + correction * driven.im
      }
    }
    return sum
  })
  const directS = Math.min(...points.map(({ position: at }) => distanceM(at, listener))) / air.speedOfSoundMps
  return {
    /** Energy of a band in every step of time, through the octave's filter and the images' share; ∫ |H|² df if all steps are taken. */
    inBand(band: Band, octaveHz: number): Float64Array {
      const { re, im } = spectrum()
      const cut = { re: new Float64Array(re.length), im: new Float64Array(re.length) }
      let square = 0
      for (let k = 1; k < re.length; k++) {
        const atHz = (k * plainRateHz) / total
        if (atHz < band.lowerHz || atHz >= band.upperHz) continue
        const share = 1 - statisticalShare(atHz, parts.levels.joiningHz)
        const gain = octaveGain(atHz, octaveHz) * Math.sqrt(share)
        // A second later, so that what the filter spreads ahead is not cut off.
        const later = multiply({ re: re[k] as number, im: im[k] as number }, fromPolar(gain, -2 * Math.PI * atHz))
        cut.re[k] = later.re
        cut.im[k] = later.im
        square += squaredMagnitude(later)
      }
      const heard = inverseRealDft(cut, total)
      const whole = square * (plainRateHz / total) * boxesRePoints(parts, points, listener, band)
      const density = new Float64Array(steps)
      let sum = 0
      heard.forEach((value, i) => {
        sum += value * value
        const step = Math.max(0, Math.floor((i / plainRateHz - 1 - directS) / stepS))
        if (step < steps) density[step] = (density[step] as number) + value * value
      })
      return density.map((energy) => (sum > 0 ? (whole * energy) / sum : 0))
    },
  }
}

/** Mean square of the rig's own cabinets re the points that stand for them, in a band; damped, so that few lines will do. */
function boxesRePoints(
  { sources: played, hall }: HallRig,
  points: { position: Point; drive(frequencyHz: number): Complex }[],
  listener: Point,
  band: Band,
): number {
  const sources = points.map(({ position, drive }): PlacedSource => {
    const radiation = (frequencyHz: number): Radiation => {
      const own = monopole(frequencyHz, air)
      const strength = { re: 0, im: (frequencyHz * air.densityKgM3) / 2 }
      const factor = divide(drive(frequencyHz), strength)
      return { ...own, pressureAt: (point) => multiply(own.pressureAt(point), factor) }
    }
    return { radiation, position, yawRad: 0, gain: 1, delayS: 0, polarity: 1 }
  })
  let [boxes, stand] = [0, 0]
  for (let i = 0; i < 12; i++) {
    const frequencyHz = band.lowerHz + ((i + 0.5) / 12) * (band.upperHz - band.lowerHz)
    boxes += squaredMagnitude(hallField(played, hall, frequencyHz, air, 0.01)(listener))
    stand += squaredMagnitude(hallField(sources, hall, frequencyHz, air, 0.01)(listener))
  }
  return boxes / stand
}

const distanceM = (a: Point, b: Point): number => Math.hypot(a.xM - b.xM, a.yM - b.yM, a.zM - b.zM)

function once<Value>(make: () => Value): () => Value {
  let made: Value | undefined
  return () => (made ??= make())
}

/** Decay time from the energy in each step, between −5 and −25 dB of what is yet to come. */
function curveOf(density: Float64Array): { t: number; db: number }[] {
  const rest = new Float64Array(density.length + 1)
  for (let i = density.length - 1; i >= 0; i--) rest[i] = (rest[i + 1] as number) + (density[i] as number)
  return Array.from(rest.subarray(0, density.length), (left, i) => ({
    t: i * stepS,
    db: 10 * Math.log10(left / (rest[0] as number)),
  })).filter(({ db }) => db <= -5 && db >= -25)
}

function decayOf(density: Float64Array): number {
  const points = curveOf(density)
  const mean = (of: (point: { t: number; db: number }) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length
  const [t, db] = [mean((point) => point.t), mean((point) => point.db)]
  return (-60 * mean((point) => (point.t - t) ** 2)) / mean((point) => (point.t - t) * (point.db - db))
}
