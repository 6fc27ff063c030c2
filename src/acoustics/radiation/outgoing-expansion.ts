import type { Complex } from '../complex.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import { sphericalHankelRatios } from '../special/spherical-hankel.ts'
import type { BoxSolution } from './boundary-elements/box-solution.ts'
import { type HarmonicRecurrence, harmonicRecurrence } from './boundary-elements/harmonic-recurrence.ts'
import { sortPanelParities } from './boundary-elements/mirror-planes.ts'
import { RegularWaves } from './boundary-elements/regular-waves.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/**
 * The sound outside a sphere that encloses a source, as outgoing waves about a point (0, 0, centreZM):
 *
 *   p = Σ b_nm h_n⁽²⁾(kr)/h_n⁽²⁾(kR) Y_nm,  n = 0 … order,  b_nm at index n² + n + m of re and im, Pa
 *
 * with the harmonics of RegularWaves. Plain data: it survives JSON, and can be kept in a file instead of being solved anew.
 */
export type OutgoingExpansion = {
  frequencyHz: number
  /** z of the expansion's centre in the source's own coordinates, m. */
  centreZM: number
  /** R, m: outside this distance from the centre the expansion holds. */
  radiusM: number
  order: number
  re: ArrayLike<number>
  im: ArrayLike<number>
}

/** Orders dropped at the end together have at most this share of the root-mean-square pressure on the sphere. */
const droppedShare = 1e-4

/** The enclosing sphere over the smallest one round the box: on that one the corners would need very many orders. */
const sphereShare = 1.06

/** Orders that the enclosing sphere needs beyond those of the far field. */
const nearFieldOrders = 24

/** Terms at a place that together stay below this share of the rest are not summed. */
const negligibleShare = 3e-5

/**
 * Expansion of a solved cabinet's sound about the middle of its box (addition theorem of the Green function):
 *
 *   b_nm = −jk h_n(kR) [ ∫ p ∂(j_n Y_nm)/∂n dS + jωρ ∫ v j_n Y_nm dS ],  R half of the box's space diagonal
 *
 * @param solution  from boxSolution
 * @param air       the same air
 * @returns         as many orders as matter: those left out have less than 1e-4 of the r.m.s. pressure on the sphere
 * Source: Morse & Ingard, Theoretical Acoustics, section 7.2 (expansion of e^{jkR}/R); orthonormal real harmonics.
 */
export function outgoingExpansion(solution: BoxSolution, air: Air): OutgoingExpansion {
  return outgoingExpansions([solution], air)[0] as OutgoingExpansion
}

/** Expansions of one box with several sets of drivers (see boxSolutions): the integrals over its panels are made once. */
export function outgoingExpansions(solutions: readonly BoxSolution[], air: Air): OutgoingExpansion[] {
  const [first] = solutions
  if (!first) return []
  const { cabinet, wavenumber, problem } = first
  const radiusM = (sphereShare * Math.hypot(cabinet.widthM, cabinet.heightM, cabinet.depthM)) / 2
  const X = wavenumber * radiusM
  const maxOrder = Math.ceil(X + 2 * Math.cbrt(X)) + nearFieldOrders
  const waves = new RegularWaves(maxOrder, wavenumber, radiusM)
  const surfaces = panelTerms(
    waves,
    problem.mesh,
    solutions.map(({ surface }) => surface),
  )
  return solutions.map((solution, set) => outgoingWaves(solution, surfaces[set] as Terms, waves, radiusM, air))
}

/** Numbers of an expansion, at index n² + n + m. */
type Terms = { re: Float64Array; im: Float64Array }

/** Adds the drivers to the terms of the panels and turns both into outgoing waves. */
function outgoingWaves(
  { cabinet, frequencyHz, wavenumber, apertures }: BoxSolution,
  { re, im }: Terms,
  waves: RegularWaves,
  radiusM: number,
  air: Air,
): OutgoingExpansion {
  const X = wavenumber * radiusM
  const maxOrder = waves.order
  const terms = re.length
  const omegaRho = 2 * Math.PI * frequencyHz * air.densityKgM3
  for (let i = 0; i < apertures.nodes.x.length; i++) {
    waves.set(apertures.nodes.x[i] as number, apertures.nodes.y[i] as number, cabinet.depthM / 2, 0, 0, 1)
    const vRe = -omegaRho * (apertures.nodes.im[i] as number)
    const vIm = omegaRho * (apertures.nodes.re[i] as number)
    for (let t = 0; t < terms; t++) {
      re[t] = (re[t] as number) + vRe * (waves.value[t] as number)
      im[t] = (im[t] as number) + vIm * (waves.value[t] as number)
    }
  }
  // times −jk h_n(kR), with the scale of the regular waves taken out again: H_n = h_n X^n/(2n + 1)!!, H_0 = j e^{−jX}/X
  const ratios = sphericalHankelRatios(X, maxOrder)
  let hRe = Math.sin(X) / X
  let hIm = Math.cos(X) / X
  for (let n = 0; n <= maxOrder; n++) {
    if (n > 0) {
      const scale = X / (2 * n + 1)
      const a = (ratios.re[n] as number) * scale
      const b = (ratios.im[n] as number) * scale
      const next = hRe * a - hIm * b
      hIm = hRe * b + hIm * a
      hRe = next
    }
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const a = re[t] as number
      const b = im[t] as number
      // −jk (a + jb)(hRe + j hIm)
      re[t] = wavenumber * (a * hIm + b * hRe)
      im[t] = -wavenumber * (a * hRe - b * hIm)
    }
  }
  const order = neededOrder(re, im, maxOrder)
  const kept = (order + 1) ** 2
  return { frequencyHz, centreZM: -cabinet.depthM / 2, radiusM, order, re: re.slice(0, kept), im: im.slice(0, kept) }
}

/** ∫ p ∂(j_n Y_nm)/∂n dS of each surface; all have the same mesh and mirror planes. */
function panelTerms(
  waves: RegularWaves,
  mesh: BoxSolution['problem']['mesh'],
  surfaces: readonly BoxSolution['surface'][],
): Terms[] {
  const { fineNodes, fineWeightsM2, normals, count } = mesh
  const perPanel = fineWeightsM2.length / count
  const terms = (waves.order + 1) ** 2
  const images = surfaces[0]?.images ?? []
  // Each harmonic keeps or turns its sign at each mirror, so over a panel's images it takes one parity of the pressure.
  const parities = harmonicParities(waves.order, images)
  const pressures = surfaces.map((surface) => {
    const sorted = { re: Float64Array.from(surface.re), im: Float64Array.from(surface.im) }
    sortPanelParities(sorted.re, images.length)
    sortPanelParities(sorted.im, images.length)
    return sorted
  })
  const made = surfaces.map((): Terms => ({ re: new Float64Array(terms), im: new Float64Array(terms) }))
  const slopes = new Float64Array(terms)
  for (let j = 0; j < count; j++) {
    slopes.fill(0)
    for (let q = perPanel * j; q < perPanel * (j + 1); q++) {
      waves.set(
        fineNodes[3 * q] as number,
        fineNodes[3 * q + 1] as number,
        fineNodes[3 * q + 2] as number,
        normals[3 * j] as number,
        normals[3 * j + 1] as number,
        normals[3 * j + 2] as number,
      )
      const weight = fineWeightsM2[q] as number
      for (let t = 0; t < terms; t++) slopes[t] = (slopes[t] as number) + weight * (waves.slope[t] as number)
    }
    for (let set = 0; set < made.length; set++) {
      const { re, im } = made[set] as Terms
      const pressure = pressures[set] as Terms
      for (let t = 0; t < terms; t++) {
        const at = (parities[t] as number) * count + j
        re[t] = (re[t] as number) + (pressure.re[at] as number) * (slopes[t] as number)
        im[t] = (im[t] as number) + (pressure.im[at] as number) * (slopes[t] as number)
      }
    }
  }
  return made
}

/**
 * Which parity (see sortParities) each harmonic has: cos mφ turns with x for odd m, sin mφ with y and, for even m, with x;
 * n + m odd turns with z.
 */
function harmonicParities(order: number, images: readonly [number, number, number][]): Uint8Array {
  const parities = new Uint8Array((order + 1) ** 2)
  for (let n = 0; n <= order; n++) {
    for (let m = -n; m <= n; m++) {
      const odd = m % 2 !== 0
      const turnsX = m >= 0 ? odd : !odd
      const turnsY = m < 0
      const turnsZ = (n + m) % 2 !== 0
      // Images 1, 2, 4 … are the single mirrors; their bits make the parity.
      for (let bit = 1; bit < images.length; bit *= 2) {
        const [sx, sy, sz] = images[bit] as [number, number, number]
        if ((sx < 0 && turnsX) || (sy < 0 && turnsY) || (sz < 0 && turnsZ)) {
          parities[n * n + n + m] = (parities[n * n + n + m] as number) | bit
        }
      }
    }
  }
  return parities
}

/** Σ_m |b_nm|² of one order. */
function orderStrength(re: ArrayLike<number>, im: ArrayLike<number>, n: number): number {
  let sum = 0
  for (let t = n * n; t < (n + 1) ** 2; t++) sum += (re[t] as number) ** 2 + (im[t] as number) ** 2
  return sum
}

function neededOrder(re: Float64Array, im: Float64Array, maxOrder: number): number {
  let total = 0
  for (let n = 0; n <= maxOrder; n++) total += orderStrength(re, im, n)
  let order = maxOrder
  for (let rest = 0; order > 1; order--) {
    rest += orderStrength(re, im, order)
    if (rest > droppedShare ** 2 * total) break
  }
  return order
}

/**
 * Radiation from an outgoing expansion, without solving anything.
 *
 * Inside the enclosing sphere, where the expansion does not hold, the pressure at the sphere's nearest point is given
 * instead; a solved cabinet (solveCabinet) uses its surface there.
 *
 * @param data  an OutgoingExpansion: frequencyHz 1e-6 … 1e6 Hz, radiusM above 0, order 0 … 1000 with (order + 1)² numbers
 *              in re and in im
 * @param air   the air that it was made with
 * @returns     Radiation; power, directivity index and far field in closed form from the coefficients
 * @throws RangeError for data that do not fit
 * Source: far field  F = Σ b_nm (j^{n+1}/k h_n(kR)) Y_nm, DLMF 10.52.4; power ∮|F|² dΩ/2ρc by orthonormality.
 */
export function expansionRadiation(data: OutgoingExpansion, air: Air): Radiation {
  requireAir(air)
  requireInRange('data.frequencyHz', data.frequencyHz, frequencyRange)
  requireInRange('data.centreZM', data.centreZM, { unit: 'm' })
  requireInRange('data.radiusM', data.radiusM, { above: 0, unit: 'm' })
  requireInRange('data.order', data.order, { min: 0, max: 1000, integer: true })
  const { order, radiusM, centreZM } = data
  const terms = (order + 1) ** 2
  requireInRange('data.re.length', data.re.length, { min: terms, max: terms })
  requireInRange('data.im.length', data.im.length, { min: terms, max: terms })
  const re = Float64Array.from(data.re)
  const im = Float64Array.from(data.im)
  if (!re.every(Number.isFinite) || !im.every(Number.isFinite)) {
    throw new RangeError('data.re or data.im holds a number that is not finite; allowed are finite numbers')
  }
  const k = (2 * Math.PI * data.frequencyHz) / air.speedOfSoundMps
  const X = k * radiusM
  const rhoC = air.densityKgM3 * air.speedOfSoundMps
  const ratios = sphericalHankelRatios(X, order)
  // Far amplitudes of each order: (R e^{jX}) j^n ∏ 1/ρ_m(X), built by one factor j/ρ_n = (ρ_im + jρ_re)/|ρ|² an order
  const farRe = new Float64Array(terms)
  const farIm = new Float64Array(terms)
  const rest = new Float64Array(order + 2)
  let fRe = radiusM * Math.cos(X)
  let fIm = radiusM * Math.sin(X)
  let square = 0
  for (let n = 0; n <= order; n++) {
    if (n > 0) {
      const a = ratios.re[n] as number
      const b = ratios.im[n] as number
      const norm = a * a + b * b
      const next = (fRe * b - fIm * a) / norm
      fIm = (fRe * a + fIm * b) / norm
      fRe = next
    }
    for (let t = n * n; t < (n + 1) ** 2; t++) {
      const bRe = re[t] as number
      const bIm = im[t] as number
      farRe[t] = bRe * fRe - bIm * fIm
      farIm[t] = bRe * fIm + bIm * fRe
      square += (farRe[t] as number) ** 2 + (farIm[t] as number) ** 2
    }
  }
  for (let n = order; n >= 0; n--) rest[n] = (rest[n + 1] as number) + orderStrength(re, im, n)

  const recurrence = harmonicRecurrence(order)
  const gRe = new Float64Array(order + 1)
  const gIm = new Float64Array(order + 1)
  const out = new Float64Array(2)

  const pressureAt = (xM: number, yM: number, zM: number): Complex => {
    const z = zM - centreZM
    const distanceM = Math.sqrt(xM * xM + yM * yM + z * z)
    requireInRange('distance of point from the source', distanceM, { min: 0, max: 1e9, unit: 'm' })
    const r = Math.max(distanceM, radiusM)
    const inverse = 1 / (k * r)
    // g_n = h_n(kr)/h_n(kR); ρ_n(kr) = a + jb
    let a = 0
    let b = 1
    let top = order
    const phase = k * (r - radiusM)
    gRe[0] = (radiusM / r) * Math.cos(phase)
    gIm[0] = (-radiusM / r) * Math.sin(phase)
    const floor = (negligibleShare * radiusM) / r
    for (let n = 1; n <= order; n++) {
      const norm = a * a + b * b
      a = (2 * n - 1) * inverse - a / norm
      b /= norm
      const sRe = ratios.re[n] as number
      const sIm = ratios.im[n] as number
      const s = sRe * sRe + sIm * sIm
      const qRe = (a * sRe + b * sIm) / s
      const qIm = (b * sRe - a * sIm) / s
      const pRe = gRe[n - 1] as number
      const pIm = gIm[n - 1] as number
      gRe[n] = pRe * qRe - pIm * qIm
      gIm[n] = pRe * qIm + pIm * qRe
      const size = (gRe[n] as number) ** 2 + (gIm[n] as number) ** 2
      if (size * (rest[n] as number) < floor * floor * (rest[0] as number)) {
        top = n - 1
        break
      }
    }
    sumHarmonics(recurrence, order, top, distanceM, xM, yM, z, re, im, gRe, gIm, out)
    return { re: out[0] as number, im: out[1] as number }
  }
  const ones = new Float64Array(order + 1).fill(1)
  const zeros = new Float64Array(order + 1)
  const farSquared = (x: number, y: number, z: number): number => {
    sumHarmonics(recurrence, order, order, 1, x, y, z, farRe, farIm, ones, zeros, out)
    return (out[0] as number) ** 2 + (out[1] as number) ** 2
  }
  const onAxisSquared = farSquared(0, 0, 1)
  return {
    frequencyHz: data.frequencyHz,
    pressureAt: ({ xM, yM, zM }) => pressureAt(xM, yM, zM),
    powerW: square / (2 * rhoC),
    directivityIndexDb: 10 * Math.log10((4 * Math.PI * onAxisSquared) / square),
    farFieldDb(horizontalRad, verticalRad) {
      requireInRange('horizontalRad', horizontalRad, { unit: 'rad' })
      requireInRange('verticalRad', verticalRad, { unit: 'rad' })
      if (onAxisSquared === 0) {
        throw new RangeError(
          'the source is silent on the forward axis; levels re that axis are allowed only with sound',
        )
      }
      const c = Math.cos(verticalRad)
      const squared = farSquared(Math.sin(horizontalRad) * c, Math.sin(verticalRad), Math.cos(horizontalRad) * c)
      return 10 * Math.log10(squared / onAxisSquared)
    },
  }
}

/** out = Σ g_n (re + j im)_nm Y_nm in the direction (x, y, z)/r, orders 0 … top. Nothing is allocated. */
function sumHarmonics(
  { up, back, start }: HarmonicRecurrence,
  order: number,
  top: number,
  r: number,
  x: number,
  y: number,
  z: number,
  re: Float64Array,
  im: Float64Array,
  gRe: Float64Array,
  gIm: Float64Array,
  out: Float64Array,
): void {
  const cosT = r > 0 ? z / r : 1
  const s = Math.sqrt(x * x + y * y)
  const sinT = r > 0 ? s / r : 0
  const cosP = s > 0 ? x / s : 1
  const sinP = s > 0 ? y / s : 0
  let cosM = 1
  let sinM = 0
  let first = 1 / Math.sqrt(4 * Math.PI)
  let sumRe = 0
  let sumIm = 0
  for (let m = 0; m <= top; m++) {
    let before = 0
    let p = first
    for (let n = m; n <= top; n++) {
      const at = n * n + n
      let cRe = re[at + m] as number
      let cIm = im[at + m] as number
      if (m > 0) {
        cRe = cRe * cosM + (re[at - m] as number) * sinM
        cIm = cIm * cosM + (im[at - m] as number) * sinM
      }
      const hRe = gRe[n] as number
      const hIm = gIm[n] as number
      sumRe += p * (cRe * hRe - cIm * hIm)
      sumIm += p * (cRe * hIm + cIm * hRe)
      const f = m * (order + 1) + n
      const next = (up[f] as number) * (cosT * p - (back[f] as number) * before)
      before = p
      p = next
    }
    first *= (start[m] as number) * sinT
    const turned = cosM * cosP - sinM * sinP
    sinM = sinM * cosP + cosM * sinP
    cosM = turned
  }
  out[0] = sumRe
  out[1] = sumIm
}
