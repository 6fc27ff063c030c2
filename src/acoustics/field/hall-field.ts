import type { Complex } from '../complex.ts'
import { absorptionDbPerM } from '../medium/absorption.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import type { Radiation } from '../radiation/radiation.ts'
import { gaussLegendre } from '../special/gauss-legendre.ts'
import { scaledErfc } from '../special/scaled-erfc.ts'
import { type Absorption, type Hall, hallVolumeM3 } from './hall.ts'
import { type HandOver, handedOver } from './hand-over.ts'
import { fillHarmonics, fitOutgoing, type OutgoingFit } from './outgoing-fit.ts'
import { checkPlacedSource, type PlacedSource, requirePoint, toSourcePoint } from './placed-source.ts'
import { driveOf } from './pressure-from.ts'
import { checkHallSize } from './shoebox-modes.ts'
import { reflectionFactor } from './wall-images.ts'

/** How many images are summed one by one.before the resonances take over. */
const earlyImages = 150

/** The early radius is at least this many wavelengths: resonances are plane waves only beyond a few. */
const earlyWavelengths = 4

/** Share of the early radius at which the hand-over begins. */
const handOverFrom = 0.1

/** Resonances farther than this from the frequency, times the width of the hand-over, do not count: beyond its spectrum. */
const widestDetuning = 22

/** Images nearer than this are computed with the source's own pressure, farther ones with its fitted waves, m. */
const exactWithinM = 6

/** Images whose reflections and hand-over leave less than this of their pressure are left out. */
const faintestWeight = 2e-3

/** In the sum of late images no wall absorbs more than this; by then nothing is left of what it has met. */
const mostLateAbsorption = 0.9999

/** Highest frequency, Hz: beyond, images and resonances are too many and the statistics serve. */
export const hallFieldCeilingHz = 500

export type Axis = {
  /** Where the axis begins, its length, m, and the reflection factors of its two walls, low and high. */
  fromM: number
  lengthM: number
  low: number
  high: number
  /** Amplitude lost per metre along the axis by late images, 1/m, and the low wall's factor as late images have it. */
  lossPerM: number
  lateLow: number
}

/**
 * The sound in a box-shaped hall at one frequency: the sum over all images of the sources in its six surfaces,
 *
 *   p(x) = Σ_images R₁^a … R₆^f p_source(mirrored listener) e^{−mr/2},   R = √(1 − α)
 *
 * with the direction of each mirrored source. The direct sound and the images up to a radius r₂ (about 150, or four wavelengths) are summed one by one.
 * The later ones fade in from r₂/10 on under a smooth window v(r) and are summed by Poisson's formula, all of them to infinity:
 * they are resonances K, each with the shape that plane waves between such walls have,
 *
 *   Σ_late = (1/8V) Σ_K D(K̂) (2π/jK) ∫ v(r) e^{−j(k−K)r} ∏_axes w(r) dr · ∏_axes u(x)
 *
 * D is the source's far pattern; w = e^{−κ|K̂_i|r}, κ = −ln(R R′)/2L, is the loss at an axis' two walls, and for an order of 0, where
 * the wave grazes them, w = erfcx(κ √(r/2jK)).
 *
 * Left out: what the stage, people and cabinets throw back, the phase of a wall's reflection, and its angle.
 *
 * @param sources      in the hall's coordinates (see hallSurfaces), inside the hall
 * @param hall         `surfaces` if it has them, else `absorption` everywhere
 * @param frequencyHz  10 … 500 Hz
 * @param air          speed of sound; absorption
 * @param dampingPerM  further loss of amplitude along every path, 0 … 0.1 1/m, default 0; see hallFieldResponse
 * @returns  pressure by listener, Pa, peak; it throws RangeError for a place outside the hall
 * @throws RangeError  for arguments out of range
 * Source: Allen & Berkley, J. Acoust. Soc. Am. 65 (1979) (images in a box); Kuttruff, Room Acoustics, sections 3.2 and 4.1;
 *         DLMF 1.8.14 (Poisson's formula).
 * Accuracy: 4 % r.m.s. of the plain sum of all images (evidence page) while no surface absorbs more than 0.9; up to 15 %, about
 *           1 dB, with one that is open.
 */
export function hallField(
  sources: PlacedSource[],
  hall: Hall,
  frequencyHz: number,
  air: Air,
  dampingPerM = 0,
): (listener: Point) => Complex {
  requireInRange('frequencyHz', frequencyHz, { min: 10, max: hallFieldCeilingHz, unit: 'Hz' })
  requireInRange('dampingPerM', dampingPerM, { min: 0, max: 0.1, unit: '1/m' })
  checkHallSize(hall, 'hall')
  requireAir(air)
  const axes = axesOf(hall, frequencyHz)
  sources.forEach((source, index) => {
    checkPlacedSource(source, `sources[${index}]`)
    requireInHall(`sources[${index}].position`, source.position, hall)
  })
  const parts = sources
    .map((source) => ({
      source,
      radiation: source.radiation(frequencyHz),
      drive: driveOf(source, frequencyHz),
      fit: fitOutgoing(source, frequencyHz, air),
    }))
    .filter(({ fit }) => fit.re.some((value, t) => value !== 0 || fit.im[t] !== 0))
  const airLossPerM = (absorptionDbPerM(frequencyHz, air) / 20) * Math.LN10 + dampingPerM
  const wavelengthM = air.speedOfSoundMps / frequencyHz
  const holdingImagesM = Math.cbrt((3 * earlyImages * hallVolumeM3(hall)) / (4 * Math.PI))
  const toM = Math.max(earlyWavelengths * wavelengthM, holdingImagesM)
  const span: HandOver = { fromM: handOverFrom * toM, toM }
  const late = lateResonances(parts, axes, (2 * Math.PI * frequencyHz) / air.speedOfSoundMps, airLossPerM, span)
  return (listener) => {
    requirePoint('listener', listener)
    requireInHall('listener', listener, hall)
    const sum = late(listener)
    for (const part of parts) addEarlyImages(part, axes, listener, airLossPerM, span, sum)
    return sum
  }
}

type Part = { source: PlacedSource; radiation: Radiation; drive: Complex; fit: OutgoingFit }

/** Slack within which a place counts as inside the hall, m. */
const slackM = 1e-6

/** @throws RangeError, in the hall's coordinates, for a place outside it */
export function requireInHall(name: string, { xM, yM, zM }: Point, hall: Hall): void {
  const half = hall.widthM / 2 + slackM
  requireInRange(`${name}.xM`, xM, { min: -half, max: half, unit: 'm, within the hall' })
  requireInRange(`${name}.yM`, yM, { min: -slackM, max: hall.heightM + slackM, unit: 'm, within the hall' })
  requireInRange(`${name}.zM`, zM, { min: -slackM, max: hall.lengthM + slackM, unit: 'm, within the hall' })
}

/**
 * What an image sum needs of each pair of opposite walls at a frequency, in the order x, y, z: where they are, their reflection
 * factors √(1 − α), and for the late images the loss per metre that equals both.
 *
 * @throws RangeError naming the surface, for an absorption outside 0 … 1
 */
export function axesOf(hall: Hall, frequencyHz: number): [Axis, Axis, Axis] {
  const { surfaces, absorption } = hall
  const axis = (fromM: number, lengthM: number, low: [string, Absorption], high: [string, Absorption]): Axis => {
    const alpha = [low, high].map(([name, of]) => {
      const value = of(frequencyHz)
      return { value, factor: reflectionFactor(`absorption of ${name} at ${frequencyHz} Hz`, value) }
    })
    const [a, b] = alpha as [{ value: number; factor: number }, { value: number; factor: number }]
    const lateLow = Math.sqrt(1 - Math.min(mostLateAbsorption, a.value))
    const lateHigh = Math.sqrt(1 - Math.min(mostLateAbsorption, b.value))
    const lossPerM = -Math.log(lateLow * lateHigh) / (2 * lengthM)
    return { fromM, lengthM, low: a.factor, high: b.factor, lossPerM, lateLow }
  }
  const of = (name: keyof NonNullable<Hall['surfaces']>): [string, Absorption] => [name, surfaces?.[name] ?? absorption]
  return [
    axis(-hall.widthM / 2, hall.widthM, of('wallLeft'), of('wallRight')),
    axis(0, hall.heightM, of('floor'), of('ceiling')),
    axis(0, hall.lengthM, of('wallBehind'), of('wallOpposite')),
  ]
}

/** The images of a listener along one axis: distance from the source, and the walls' factor. */
export function axisImages(
  axis: Axis,
  listenerM: number,
  sourceM: number,
  withinM: number,
): { offM: number; factor: number }[] {
  const u = listenerM - axis.fromM
  const s = sourceM - axis.fromM
  const most = Math.ceil(withinM / (2 * axis.lengthM)) + 1
  const images: { offM: number; factor: number }[] = []
  const add = (offM: number, lowHits: number, highHits: number) => {
    if (Math.abs(offM) > withinM) return
    const factor = axis.low ** lowHits * axis.high ** highHits
    if (factor > 0) images.push({ offM, factor })
  }
  for (let n = -most; n <= most; n++) {
    const hits = Math.abs(n)
    add(u + 2 * n * axis.lengthM - s, hits, hits)
    add(-u + 2 * n * axis.lengthM - s, n > 0 ? n - 1 : hits + 1, hits)
  }
  return images
}

const harmonics = new Float64Array(11 ** 2)

/** Adds the direct sound and the early images of one source, as far as they are not handed over. */
function addEarlyImages(
  { source, radiation, drive, fit }: Part,
  [xAxis, yAxis, zAxis]: readonly [Axis, Axis, Axis],
  listener: Point,
  airLossPerM: number,
  span: HandOver,
  sum: Complex,
): void {
  const { position } = source
  const xs = axisImages(xAxis, listener.xM, position.xM, span.toM)
  const ys = axisImages(yAxis, listener.yM, position.yM, span.toM)
  const zs = axisImages(zAxis, listener.zM, position.zM, span.toM)
  const farthest = span.toM * span.toM
  for (const x of xs) {
    for (const z of zs) {
      const flat = x.offM * x.offM + z.offM * z.offM
      if (flat > farthest) continue
      for (const y of ys) {
        const square = flat + y.offM * y.offM
        if (square > farthest) continue
        const r = Math.sqrt(square)
        const weight = x.factor * y.factor * z.factor * (1 - handedOver(span, r)) * Math.exp(-airLossPerM * r)
        if (weight < faintestWeight) continue
        if (r < exactWithinM) {
          const point = { xM: position.xM + x.offM, yM: position.yM + y.offM, zM: position.zM + z.offM }
          const pressure = radiation.pressureAt(toSourcePoint(source, point))
          sum.re += weight * (pressure.re * drive.re - pressure.im * drive.im)
          sum.im += weight * (pressure.re * drive.im + pressure.im * drive.re)
        } else addFittedWave(fit, x.offM / r, y.offM / r, z.offM / r, r, weight, sum)
      }
    }
  }
}

function addFittedWave(
  { order, wavenumber, re, im }: OutgoingFit,
  x: number,
  y: number,
  z: number,
  r: number,
  weight: number,
  sum: Complex,
): void {
  fillHarmonics(order, x, y, z, harmonics)
  const kr = wavenumber * r
  let [beforeRe, beforeIm, qRe, qIm] = [0, 0, 1, 0]
  let aRe = 0
  let aIm = 0
  for (let n = 0; n <= order; n++) {
    let sRe = 0
    let sIm = 0
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const harmonic = harmonics[t] as number
      sRe += harmonic * (re[t] as number)
      sIm += harmonic * (im[t] as number)
    }
    aRe += sRe * qRe - sIm * qIm
    aIm += sRe * qIm + sIm * qRe
    const f = (2 * n + 1) / kr
    // For n = 0 the term before is q_{−1} = q_0.
    const nextRe = (n === 0 ? 1 : beforeRe) + f * qIm
    const nextIm = (n === 0 ? 0 : beforeIm) - f * qRe
    beforeRe = qRe
    beforeIm = qIm
    qRe = nextRe
    qIm = nextIm
  }
  const c = (weight * Math.cos(kr)) / r
  const s = (-weight * Math.sin(kr)) / r
  sum.re += aRe * c - aIm * s
  sum.im += aRe * s + aIm * c
}

/** One order of standing wave along an axis in one sense of travel: wavenumber with its sign, sense, share (½ where both senses have wavenumber 0). */
type AxisWave = { wavenumber: number; sense: 1 | -1; share: number }

function axisWaves(axis: Axis, highest: number): AxisWave[] {
  const waves: AxisWave[] = []
  for (let n = 0; (n * Math.PI) / axis.lengthM <= highest; n++) {
    for (const sense of [1, -1] as const) {
      waves.push({ wavenumber: (sense * n * Math.PI) / axis.lengthM, sense, share: n === 0 ? 0.5 : 1 })
    }
  }
  return waves
}

/** Where the two senses of an order lie in axisWaves, from the first. */
const bothSenses = [0, 1]

/** The late images of all sources, summed as resonances. */
function lateResonances(
  parts: Part[],
  axes: readonly [Axis, Axis, Axis],
  k: number,
  airLossPerM: number,
  span: HandOver,
): (listener: Point) => Complex {
  const reach = widestDetuning / (span.toM - span.fromM)
  const highest = k + reach
  const [xWaves, yWaves, zWaves] = axes.map((axis) => axisWaves(axis, highest)) as [AxisWave[], AxisWave[], AxisWave[]]
  const volume = axes.reduce((product, axis) => product * axis.lengthM, 1)
  const withinSpan = spanNodes(span)
  type Term = { y: number; re: number; im: number }
  const grid: (Term[] | undefined)[] = []
  for (const [xFirst, x] of xWaves.entries()) {
    for (const [zFirst, z] of zWaves.entries()) {
      for (const [yFirst, y] of yWaves.entries()) {
        // The integral over distance depends on the orders alone: the eight senses of travel share it.
        if (x.sense < 0 || y.sense < 0 || z.sense < 0) continue
        const K = Math.hypot(x.wavenumber, y.wavenumber, z.wavenumber)
        if (K === 0 || Math.abs(k - K) > reach) continue
        const { re, im } = lateIntegral(k, K, [x, y, z], axes, airLossPerM, withinSpan, span.toM)
        const share = (x.share * y.share * z.share) / (8 * volume)
        for (const xi of bothSenses) {
          for (const zi of bothSenses) {
            const at = (xFirst + xi) * zWaves.length + zFirst + zi
            grid[at] ??= []
            for (const yi of bothSenses) {
              const waves = [xWaves[xFirst + xi], yWaves[yFirst + yi], zWaves[zFirst + zi]] as [
                AxisWave,
                AxisWave,
                AxisWave,
              ]
              const drive = wavesDrive(parts, axes, waves, K)
              grid[at].push({
                y: yFirst + yi,
                re: share * (re * drive.re - im * drive.im),
                im: share * (re * drive.im + im * drive.re),
              })
            }
          }
        }
      }
    }
  }
  const columns = grid.flatMap((terms, at) =>
    terms ? [{ x: Math.floor(at / zWaves.length), z: at % zWaves.length, terms, re: 0, im: 0 }] : [],
  )
  let atYM = Number.NaN
  return ({ xM, yM, zM }) => {
    // A plan has one height: what the heights add up to is kept from place to place.
    if (yM !== atYM) {
      const shapes = yWaves.map((wave) => waveShape(axes[1], wave, yM))
      for (const column of columns) {
        column.re = 0
        column.im = 0
        for (const { y, re, im } of column.terms) {
          const shape = shapes[y] as Complex
          column.re += re * shape.re - im * shape.im
          column.im += re * shape.im + im * shape.re
        }
      }
      atYM = yM
    }
    const xShapes = xWaves.map((wave) => waveShape(axes[0], wave, xM))
    const zShapes = zWaves.map((wave) => waveShape(axes[2], wave, zM))
    const sum = { re: 0, im: 0 }
    for (const { x, z, re, im } of columns) {
      const a = xShapes[x] as Complex
      const b = zShapes[z] as Complex
      const sRe = a.re * b.re - a.im * b.im
      const sIm = a.re * b.im + a.im * b.re
      sum.re += re * sRe - im * sIm
      sum.im += re * sIm + im * sRe
    }
    return sum
  }
}

/** Along one axis: the wave that has hit both walls equally often, and the one that has been turned at the low wall. */
function waveShape({ fromM, lossPerM, lateLow }: Axis, { wavenumber, sense }: AxisWave, placeM: number): Complex {
  const u = placeM - fromM
  const even = Math.exp(sense * lossPerM * u)
  const odd = Math.exp(-sense * lossPerM * u) * (sense > 0 ? 1 / lateLow : lateLow)
  return { re: (even + odd) * Math.cos(wavenumber * u), im: (odd - even) * Math.sin(wavenumber * u) }
}

/** What all sources give to one wave: Σ D(K̂) e^{jK·s} and the losses on the way from the source to the low walls. */
function wavesDrive(
  parts: Part[],
  axes: readonly [Axis, Axis, Axis],
  waves: readonly [AxisWave, AxisWave, AxisWave],
  K: number,
): Complex {
  const total = { re: 0, im: 0 }
  const [x, y, z] = waves
  for (const { source, fit } of parts) {
    fillHarmonics(fit.order, x.wavenumber / K, y.wavenumber / K, z.wavenumber / K, harmonics)
    let re = 0
    let im = 0
    for (let t = 0; t < fit.re.length; t++) {
      re += (harmonics[t] as number) * (fit.re[t] as number)
      im += (harmonics[t] as number) * (fit.im[t] as number)
    }
    const places = [source.position.xM, source.position.yM, source.position.zM]
    let phase = 0
    let loss = 0
    for (const [i, wave] of waves.entries()) {
      const axis = axes[i] as Axis
      const s = (places[i] as number) - axis.fromM
      phase += wave.wavenumber * s
      loss += wave.sense * axis.lossPerM * s
    }
    const c = Math.exp(-loss) * Math.cos(phase)
    const d = Math.exp(-loss) * Math.sin(phase)
    total.re += re * c - im * d
    total.im += re * d + im * c
  }
  return total
}

const withinWindow = gaussLegendre(24)
const beyondWindow = gaussLegendre(24)

/** Decays, in nepers, after which the tail of the integral is cut. */
const tailNepers = 26

type Node = { at: number; weight: number }

/** Distances within the hand-over, m, and their weights, v(r) taken in. */
function spanNodes(span: HandOver): Node[] {
  const half = (span.toM - span.fromM) / 2
  return Array.from(withinWindow.nodes, (node, i) => {
    const at = span.fromM + half * (1 + node)
    return { at, weight: half * (withinWindow.weights[i] as number) * handedOver(span, at) }
  })
}

/** Nepers beyond the hand-over and their weights; t = T x³ packs the points toward the start. */
const tailNodes: Node[] = Array.from(beyondWindow.nodes, (node, i) => {
  const x = (1 + node) / 2
  return { at: tailNepers * x ** 3, weight: (beyondWindow.weights[i] as number) * 1.5 * tailNepers * x * x }
})

/** (2π/jK) ∫ v(r) e^{−j(k−K)r} ∏ w(r) dr, from the beginning of the hand-over to infinity. */
function lateIntegral(
  k: number,
  K: number,
  waves: readonly AxisWave[],
  axes: readonly Axis[],
  airLossPerM: number,
  withinSpan: readonly Node[],
  spanToM: number,
): Complex {
  let loss = airLossPerM
  const grazing: number[] = []
  for (const [i, wave] of waves.entries()) {
    const { lossPerM } = axes[i] as Axis
    if (wave.wavenumber === 0) grazing.push(lossPerM)
    else loss += (lossPerM * Math.abs(wave.wavenumber)) / K
  }
  const detuning = k - K
  // A mode that nothing but grazing damps would ring for ever at its own frequency: no hall loses less than this.
  loss = Math.max(loss, 1e-7)
  const sum = { re: 0, im: 0 }
  /** Adds weight · v · e^{−(loss + j detuning) r} ∏ w at a complex distance r. */
  const add = (rRe: number, rIm: number, wRe: number, wIm: number) => {
    const grow = Math.exp(-loss * rRe + detuning * rIm)
    const phase = -loss * rIm - detuning * rRe
    let re = grow * Math.cos(phase)
    let im = grow * Math.sin(phase)
    for (const lossPerM of grazing) {
      // κ √(r/2K) e^{−jπ/4}
      const size = lossPerM * Math.sqrt(Math.hypot(rRe, rIm) / (2 * K))
      const angle = Math.atan2(rIm, rRe) / 2 - Math.PI / 4
      const w = scaledErfc({ re: Math.max(0, size * Math.cos(angle)), im: size * Math.sin(angle) })
      const next = re * w.re - im * w.im
      im = re * w.im + im * w.re
      re = next
    }
    sum.re += re * wRe - im * wIm
    sum.im += re * wIm + im * wRe
  }
  for (const { at, weight } of withinSpan) add(at, 0, weight, 0)
  // Beyond the hand-over: r = r₂ + t/(loss + j detuning), along which the integrand falls like e^{−t}
  const norm = loss * loss + detuning * detuning
  const stepRe = loss / norm
  const stepIm = -detuning / norm
  for (const { at, weight } of tailNodes) add(spanToM + at * stepRe, at * stepIm, weight * stepRe, weight * stepIm)
  const factor = (2 * Math.PI) / K
  return { re: factor * sum.im, im: -factor * sum.re }
}
