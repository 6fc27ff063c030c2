import { gaussRule } from '../special/gauss-rule.ts'
import { setPhasors } from '../special/phasors.ts'
import { cardinalValues } from './box-surface/edge-rule.ts'
import {
  addByStretches,
  type BoxEdge,
  crossingM,
  type EdgeReceiver,
  type EdgeWave,
  edgeReceiver,
  nu,
  offBorderRad,
  type PressureAt,
  peakWidthM,
  setStrength,
  strengthBehind,
} from './high-frequency-edge.ts'

/** A wave at an edge, at even steps and at Gauss points of the edge (see addLitEdge). */
export type LitWave = EdgeWave & {
  places: EdgePlaces
  /** At each Gauss point: the wave's pressure times the weight, and the weight times e^{−jk√(reach² + (s − along)²)} alone. */
  litRe: Float64Array
  litIm: Float64Array
  bareRe: Float64Array
  bareIm: Float64Array
  /** e^{νη₀} and e^{−νη₀}, sinh η₀ = (s − along)/spread. */
  growth: Float64Array
  shrink: Float64Array
}

/** Gauss points of an edge. */
export type EdgePlaces = { wavenumber: number; placesM: Float64Array; weightsM: Float64Array }

/** Gauss points beyond those that the wave itself needs, for what else the integrand does: at least, and at most. */
const extraPoints = 28
const mostExtraPoints = 320

/** So many times the edge's length over the distance of a source: between them the peak of its wave is then met to 1e-4. */
const extraPerLength = 4.5

/** Gauss points for a radian of the wave over half the edge; a half are needed where both ways turn over the whole of it. */
const pointsPerRad = 1.05

/** Even steps for each Gauss point: a cubic between them keeps what the Gauss points know. */
const stepsPerPoint = 4

/** Gauss points are taken where they leave a share of e^−9, 1e-4, of what is near to the edge. */
const leastDecay = 9

/**
 * Gauss points of an edge for both ways of a wave, to it and from it.
 *
 * @param wavenumber  k, rad/m
 * @param nearestM    distance of the nearest source from the edge, m, 0 or more
 */
export function edgePlaces({ lengthM }: BoxEdge, wavenumber: number, nearestM: number): EdgePlaces {
  const extra = Math.max(extraPoints, Math.min(mostExtraPoints, Math.ceil((extraPerLength * lengthM) / nearestM)))
  const { nodes, weights } = gaussRule(extra + Math.ceil((pointsPerRad * wavenumber * lengthM) / 2))
  return {
    wavenumber,
    placesM: nodes.map((x) => ((1 + x) * lengthM) / 2),
    weightsM: weights.map((weight) => (weight * lengthM) / 2),
  }
}

/**
 * A wave at an edge from the pressure that it has there; see EdgeWave.
 *
 * @param pressureAt  the wave's free-field pressure
 */
export function litWave(
  edge: BoxEdge,
  places: EdgePlaces,
  source: Pick<EdgeWave, 'alongM' | 'reachM' | 'spreadM'>,
  pressureAt: PressureAt,
): LitWave {
  const { wavenumber, placesM, weightsM } = places
  const count = placesM.length
  const array = () => new Float64Array(count)
  const [cosines, sines, strengthRe, strengthIm] = [array(), array(), array(), array()]
  const made = { litRe: array(), litIm: array(), bareRe: array(), bareIm: array(), growth: array(), shrink: array() }
  const out = new Float64Array(2)
  const setPressure = (s: number) => {
    out.fill(0)
    pressureAt(edge.x + s * edge.alongX, edge.y + s * edge.alongY, edge.z + s * edge.alongZ, out)
  }
  for (let i = 0; i < count; i++) {
    const s = placesM[i] as number
    const u = s - source.alongM
    cosines[i] = wavenumber * Math.sqrt(source.reachM ** 2 + u * u)
    const grown = Math.cbrt(turnedWay(u, source.spreadM) ** 2)
    made.growth[i] = grown
    made.shrink[i] = 1 / grown
  }
  setPhasors(cosines, count, cosines, sines)
  for (let i = 0; i < count; i++) {
    const s = placesM[i] as number
    const weight = weightsM[i] as number
    const [c, d] = [cosines[i] as number, sines[i] as number]
    setPressure(s)
    const [a, b] = [out[0] as number, out[1] as number]
    made.litRe[i] = weight * a
    made.litIm[i] = weight * b
    made.bareRe[i] = weight * c
    made.bareIm[i] = -weight * d
    strengthRe[i] = a * c - b * d
    strengthIm[i] = a * d + b * c
  }
  const even = evenSteps(strengthRe, strengthIm)
  // What comes from an edge that meets this one goes like the 2/3 power of the distance from the corner, which no polynomial meets there.
  for (const end of [0, 1]) {
    const phase = wavenumber * Math.sqrt(source.reachM ** 2 + (end * edge.lengthM - source.alongM) ** 2)
    const [c, d] = [Math.cos(phase), Math.sin(phase)]
    setPressure(end * edge.lengthM)
    even.re[end * (even.re.length - 1)] = (out[0] as number) * c - (out[1] as number) * d
    even.im[end * (even.im.length - 1)] = (out[0] as number) * d + (out[1] as number) * c
  }
  return { ...made, ...even, ...source, places, pressureAt }
}

/** e^η with sinh η = u/r: (√(r² + u²) + u)/r, without cancellation. */
function turnedWay(u: number, r: number): number {
  const m = Math.sqrt(r * r + u * u)
  return u < 0 ? r / (m - u) : (m + u) / r
}

/** Values at even steps from those at Gauss points, by their polynomial. */
function evenSteps(re: Float64Array, im: Float64Array): { re: Float64Array; im: Float64Array } {
  const count = re.length
  const steps = stepsPerPoint * count
  const made = { re: new Float64Array(steps + 1), im: new Float64Array(steps + 1) }
  const values = stepValues(count)
  for (let step = 0, at = 0; step <= steps; step++) {
    let a = 0
    let b = 0
    for (let i = 0; i < count; i++, at++) {
      const value = values[at] as number
      a += value * (re[i] as number)
      b += value * (im[i] as number)
    }
    made.re[step] = a
    made.im[step] = b
  }
  return made
}

/** What stepValues was asked for last: waves at one edge ask for the same. */
let lastCount = 0
let lastValues = new Float64Array(0)

/** Values at even steps of the polynomials of so many Gauss points, step after step. */
function stepValues(count: number): Float64Array {
  if (count === lastCount) return lastValues
  const steps = stepsPerPoint * count
  lastCount = count
  if (lastValues.length < (steps + 1) * count) lastValues = new Float64Array((steps + 1) * count)
  for (let step = 0; step <= steps; step++) cardinalValues(count, step / steps, 1, lastValues, step * count)
  return lastValues
}

/** At the Gauss points of an edge for one receiver: cos kl/l, sin kl/l, e^{νη} and e^{−νη}, sinh η = (s − along)/reach. */
let cosines = new Float64Array(0)
let sines = new Float64Array(0)
let growths = new Float64Array(0)
let shrinks = new Float64Array(0)

/**
 * What an edge sends on of several waves at once: the integral of addEdgeSound for each, by the same Gauss points of the whole edge.
 *
 * cosh η of the integrand is that of a sum of two arguments, one of the source and one of the receiver, so that e^{±νη} is a product of
 * what is known of either. Where the integrand is sharper than the Gauss points meet it is integrated by stretches (addByStretches).
 * Exactly straight behind the edge (θ = π) its peak is the jump itself, half of it here.
 *
 * @param edge   the edge
 * @param waves  on the same Gauss points of it
 * @param x, y, z  receiver, m, outside the box
 * @param out    the sum is added to its two numbers
 * Accuracy: 1e-4 of the wave against the integral; see tests.
 */
export function addLitEdge(
  edge: BoxEdge,
  waves: readonly LitWave[],
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): void {
  const receiver = edgeReceiver(edge, x, y, z)
  const [first] = waves
  if (!receiver || !first) return
  const { wavenumber } = first.places
  const isStraightOn = Math.abs(receiver.theta - Math.PI) < offBorderRad
  // What the waves are behind the edge asks other edges, so that it comes before the arrays of this one are filled.
  const even: { wave: LitWave; more: readonly [number, number] }[] = []
  for (const wave of waves) {
    const crossing = crossingM(edge, wave, receiver)
    const more = strengthBehind(edge, wave, wavenumber, receiver, crossing)
    if (isMet(edge, wave, receiver, isStraightOn)) {
      even.push({ wave, more })
      if (isStraightOn && crossing > 0 && crossing < edge.lengthM) addJump(edge, wave, receiver, crossing, more, out)
    } else addByStretches(edge, wave, wavenumber, receiver, crossing, more, out)
  }
  if (even.length === 0) return
  setReceiver(first.places, receiver)
  const { theta } = receiver
  const plus = nu * (Math.PI + theta)
  const minus = nu * (Math.PI - theta)
  const [sinPlus, cosPlus] = [Math.sin(plus), Math.cos(plus)]
  // Straight on, the term of the peak is the jump and nothing else; with a cosine off 1 it does not divide 0 by 0 where the crossing is a point.
  const [sinMinus, cosMinus] = isStraightOn ? [0, -1] : [Math.sin(minus), Math.cos(minus)]
  for (const { wave, more } of even) addSum(wave, more, sinPlus, cosPlus, sinMinus, cosMinus, out)
}

/** Whether the Gauss points of the edge meet the integrand: how fast its polynomials converge beside its nearest singularity. */
function isMet({ lengthM }: BoxEdge, wave: LitWave, receiver: EdgeReceiver, isStraightOn: boolean): boolean {
  const { along, reach } = receiver
  const { alongM, spreadM, places } = wave
  const half = lengthM / 2
  const farEnd = Math.max(Math.abs(along), Math.abs(lengthM - along))
  const slopes = 1 + farEnd / Math.sqrt(reach * reach + farEnd * farEnd)
  const spare = 2 * places.placesM.length - places.wavenumber * half * slopes
  const width = isStraightOn ? (spreadM * reach) / (spreadM + reach) : peakWidthM(wave, receiver)
  const re = (alongM + ((along - alongM) * spreadM) / (spreadM + reach)) / half - 1
  const im = width / half
  // Of the ellipse with its foci at the ends of the edge that goes through the singularity, half the sum of its axes is e^t.
  const axis = (Math.sqrt((re + 1) ** 2 + im * im) + Math.sqrt((re - 1) ** 2 + im * im)) / 2
  return axis > Math.cosh(leastDecay / spare)
}

const strength = new Float64Array(2)

/** Straight behind an edge: the jump's half that belongs to the other side, p m/(m + l) e^{−jk(m + l)}. */
function addJump(
  edge: BoxEdge,
  wave: LitWave,
  { along, reach, theta }: EdgeReceiver,
  crossing: number,
  [moreRe, moreIm]: readonly [number, number],
  out: Float64Array,
): void {
  const m = Math.sqrt(wave.spreadM ** 2 + (crossing - wave.alongM) ** 2)
  const l = Math.sqrt(reach ** 2 + (crossing - along) ** 2)
  const phase = wave.places.wavenumber * (Math.sqrt(wave.reachM ** 2 + (crossing - wave.alongM) ** 2) + l)
  const size = ((theta < Math.PI ? -1 : 1) * m) / (m + l)
  setStrength(edge, wave, crossing, strength)
  const a = (strength[0] as number) + moreRe
  const b = (strength[1] as number) + moreIm
  const [c, d] = [size * Math.cos(phase), size * Math.sin(phase)]
  out[0] = (out[0] as number) + a * c + b * d
  out[1] = (out[1] as number) + b * c - a * d
}

/** Fills the arrays of a receiver. */
function setReceiver({ wavenumber, placesM }: EdgePlaces, { along, reach }: EdgeReceiver): void {
  const count = placesM.length
  if (cosines.length < count) {
    cosines = new Float64Array(count)
    sines = new Float64Array(count)
    growths = new Float64Array(count)
    shrinks = new Float64Array(count)
  }
  const squared = reach * reach
  for (let i = 0; i < count; i++) {
    const v = (placesM[i] as number) - along
    const l = Math.sqrt(squared + v * v)
    cosines[i] = wavenumber * l
    // For a moment e^η and 1/l
    growths[i] = v < 0 ? reach / (l - v) : (l + v) / reach
    shrinks[i] = 1 / l
  }
  setPhasors(cosines, count, cosines, sines)
  for (let i = 0; i < count; i++) {
    const inverse = shrinks[i] as number
    cosines[i] = (cosines[i] as number) * inverse
    sines[i] = (sines[i] as number) * inverse
    const turned = growths[i] as number
    const grown = Math.cbrt(turned * turned)
    growths[i] = grown
    shrinks[i] = 1 / grown
  }
}

/** Adds the sum over the Gauss points for one wave. */
function addSum(
  { litRe, litIm, bareRe, bareIm, growth, shrink }: LitWave,
  [moreRe, moreIm]: readonly [number, number],
  sinPlus: number,
  cosPlus: number,
  sinMinus: number,
  cosMinus: number,
  out: Float64Array,
): void {
  let re = 0
  let im = 0
  for (let i = 0; i < growth.length; i++) {
    const cosh = ((growth[i] as number) * (growths[i] as number) + (shrink[i] as number) * (shrinks[i] as number)) / 2
    const overPlus = cosh - cosPlus
    const overMinus = cosh - cosMinus
    const beta = (sinPlus * overMinus + sinMinus * overPlus) / (overPlus * overMinus)
    const c = beta * (cosines[i] as number)
    const d = beta * (sines[i] as number)
    // The wave's strength and what it has more behind the edge
    const a = (litRe[i] as number) + moreRe * (bareRe[i] as number) - moreIm * (bareIm[i] as number)
    const b = (litIm[i] as number) + moreRe * (bareIm[i] as number) + moreIm * (bareRe[i] as number)
    re += a * c + b * d
    im += b * c - a * d
  }
  const scale = nu / (2 * Math.PI)
  out[0] = (out[0] as number) - scale * re
  out[1] = (out[1] as number) - scale * im
}
