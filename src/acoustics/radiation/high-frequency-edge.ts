import { gaussLegendre } from '../special/gauss-legendre.ts'
import { setPhasor } from '../special/phasors.ts'

/** A straight edge of a box between two faces at right angles. */
export type BoxEdge = {
  /** Its start, m. */
  x: number
  y: number
  z: number
  /** Unit vector along it. */
  alongX: number
  alongY: number
  alongZ: number
  lengthM: number
  /** Unit vector from the edge into the face from which the sound comes, at right angles to the edge. */
  faceX: number
  faceY: number
  faceZ: number
  /** Unit vector out of that face. */
  outX: number
  outY: number
  outZ: number
}

/**
 * Sound that runs along the face to the edge. Its free-field pressure at even steps from the edge's start, with the phase
 * of the way from `alongM`, `reachM` taken out so that it changes slowly: times e^{+jk√(reach² + (s − along)²)}.
 */
export type EdgeWave = {
  re: Float64Array
  im: Float64Array
  /** Where the wave starts: its foot on the edge, from the start, m. */
  alongM: number
  /** Distance of the start from the edge that the phase counts, m. */
  reachM: number
  /** Distance from which the wave spreads as seen by a receiver, m; reachM for a point source. */
  spreadM: number
  /** The wave itself, on the edge and beyond it in the plane of the face: adds to the last argument. */
  pressureAt: PressureAt
}

/** Adds a free-field pressure at a place to its last argument (real, imaginary). */
export type PressureAt = (x: number, y: number, z: number, out: Float64Array) => void

/** Wedge index of a right-angled outer edge: π over its open angle 3π/2. */
export const nu = 2 / 3
const openAngleRad = 1.5 * Math.PI

const rule = gaussLegendre(6)

/** Phase, rad, that a stretch of the edge may span under the six-point rule. */
const phasePerStretchRad = 8

/** Stretches grow by this factor away from the place where the shortest way crosses the edge. */
const stretchGrowth = 3

/** Angle, rad, by which a receiver is kept off the two borders where the integrand has a pole. */
export const offBorderRad = 1e-7

/** A receiver as an edge sees it: its angle round the edge (see angleRoundEdge), its foot and its distance, m. */
export type EdgeReceiver = { theta: number; along: number; reach: number }

/** A receiver as an edge sees it; undefined where the edge is hidden. */
export function edgeReceiver(edge: BoxEdge, x: number, y: number, z: number): EdgeReceiver | undefined {
  const theta = angleRoundEdge(edge, x, y, z)
  if (theta > openAngleRad + 1e-6) return undefined
  const [dx, dy, dz] = [x - edge.x, y - edge.y, z - edge.z]
  const along = dx * edge.alongX + dy * edge.alongY + dz * edge.alongZ
  const reach = Math.sqrt(Math.max(1e-18, dx * dx + dy * dy + dz * dz - along * along))
  return { theta: Math.min(theta, openAngleRad), along, reach }
}

/** Angle of a receiver round the edge, from the face (0) through the air to the other face (3π/2), rad; above that it is hidden. */
export function angleRoundEdge(edge: BoxEdge, x: number, y: number, z: number): number {
  const [dx, dy, dz] = [x - edge.x, y - edge.y, z - edge.z]
  const angle = Math.atan2(
    dx * edge.outX + dy * edge.outY + dz * edge.outZ,
    dx * edge.faceX + dy * edge.faceY + dz * edge.faceZ,
  )
  return angle < -1e-9 ? angle + 2 * Math.PI : Math.max(0, angle)
}

/**
 * Sound that one edge of a rigid box sends on, of a wave that comes along a face:
 *
 *   p(x) = −(ν/4π) ∫ p_in(s) e^{−jkl}/l · β ds,   ν = 2/3,   l the distance from the edge's point to x,
 *   β = 2 Σ_± sin(ν(π ± θ))/(cosh νη − cos(ν(π ± θ))),   cosh η = (m l + (s − s₀)(s − s_x))/(r₀ r_x)
 *
 * θ the receiver's angle round the edge; r, s distances from and along the edge of source (₀) and receiver. The wave's
 * strength at the edge is its own there, so a beam lights the edges as much as it does.
 *
 * Straight behind the edge (θ = π) the integral jumps, which makes up for the end of the wave that is seen directly. A wide
 * or beaming source is not there what its strength at the edge promises; the difference is added to the strength, in
 * full at θ = π and fading like e^{−k · detour} away from it, so that the sum of both has no step.
 *
 * @param edge        the edge
 * @param wave        p_in, without the doubling by the face
 * @param wavenumber  k, rad/m
 * @param x, y, z     receiver, m, outside the box
 * @param out         the result is added to its two numbers (real, imaginary)
 * Source: U. P. Svensson, R. I. Fred & J. Vanderkooy, J. Acoust. Soc. Am. 106 (1999) 2331–2344, after Biot & Tolstoy
 *         (1957) and Medwin (1981); exact for a point source by an endless edge.
 * Accuracy: quadrature 1e-3 of the wave; corners of the box, where edges end, send nothing of their own.
 */
export function addEdgeSound(
  edge: BoxEdge,
  wave: EdgeWave,
  wavenumber: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
): void {
  const receiver = edgeReceiver(edge, x, y, z)
  if (!receiver) return
  const crossing = crossingM(edge, wave, receiver)
  addByStretches(
    edge,
    wave,
    wavenumber,
    receiver,
    crossing,
    strengthBehind(edge, wave, wavenumber, receiver, crossing),
    out,
  )
}

/** Where the shortest way from a wave's start to a receiver crosses the edge, from its start, m. */
export function crossingM(
  { lengthM }: BoxEdge,
  { alongM, spreadM }: Pick<EdgeWave, 'alongM' | 'spreadM'>,
  { along, reach }: EdgeReceiver,
): number {
  return Math.max(0, Math.min(lengthM, alongM + ((along - alongM) * spreadM) / (spreadM + reach)))
}

/**
 * Width, m, of what the integrand of addEdgeSound does about the crossing: as wide as source and receiver are far, save that
 * behind the edge it is a peak as wide as the receiver is off the border.
 */
export function peakWidthM({ spreadM }: Pick<EdgeWave, 'spreadM'>, { theta, reach }: EdgeReceiver): number {
  const sharp = theta > Math.PI / 2 && theta < 1.5 * Math.PI ? Math.abs(Math.sin(theta)) : 1
  return (sharp * spreadM * reach) / (spreadM + reach)
}

const phasor = new Float64Array(2)
const strength = new Float64Array(2)

/**
 * The integral of addEdgeSound over stretches that grow away from the crossing, whatever the integrand does there.
 *
 * @param more  what is added to the wave's strength, see strengthBehind
 */
export function addByStretches(
  edge: BoxEdge,
  wave: EdgeWave,
  wavenumber: number,
  receiver: EdgeReceiver,
  crossing: number,
  more: readonly [number, number],
  out: Float64Array,
): void {
  const { along, reach } = receiver
  const { reachM, spreadM, alongM } = wave
  // Straight on (θ = π) the integral is a jump from −1/2 to +1/2 of the wave, which the seen wave makes up for.
  let { theta } = receiver
  if (Math.abs(theta - Math.PI) < offBorderRad) {
    theta = theta < Math.PI ? Math.PI - offBorderRad : Math.PI + offBorderRad
  }
  const plus = nu * (Math.PI + theta)
  const minus = nu * (Math.PI - theta)
  const [sinPlus, cosPlus, sinMinus, cosMinus] = [Math.sin(plus), Math.cos(plus), Math.sin(minus), Math.cos(minus)]
  const peakM = peakWidthM(wave, { ...receiver, theta })
  const [moreRe, moreIm] = more
  let re = 0
  let im = 0
  for (let side = -1; side <= 1; side += 2) {
    const room = side < 0 ? crossing : edge.lengthM - crossing
    const widest = phasePerStretchRad / wavenumber
    let from = 0
    let reachTo = Math.max(peakM, 1e-9 * edge.lengthM)
    while (from < room) {
      const to = Math.min(room, from + Math.min(widest, reachTo))
      const half = (to - from) / 2
      for (let i = 0; i < rule.nodes.length; i++) {
        const s = crossing + side * (from + half * (1 + (rule.nodes[i] as number)))
        const u = s - alongM
        const v = s - along
        const m = Math.sqrt(spreadM * spreadM + u * u)
        const l = Math.sqrt(reach * reach + v * v)
        const coshEta = Math.max(1, (m * l + u * v) / (spreadM * reach))
        // cosh νη with ν = 2/3, from e^η
        const growth = Math.cbrt((coshEta + Math.sqrt(coshEta * coshEta - 1)) ** 2)
        const coshNuEta = (growth + 1 / growth) / 2
        const beta = 2 * (sinPlus / (coshNuEta - cosPlus) + sinMinus / (coshNuEta - cosMinus))
        const weight = ((rule.weights[i] as number) * half * beta) / l
        setPhasor(wavenumber * (l + Math.sqrt(reachM * reachM + u * u)), phasor)
        const c = weight * (phasor[0] as number)
        const d = weight * (phasor[1] as number)
        setStrength(edge, wave, s, strength)
        const a = (strength[0] as number) + moreRe
        const b = (strength[1] as number) + moreIm
        re += a * c + b * d
        im += b * c - a * d
      }
      from = to
      reachTo = (stretchGrowth - 1) * from
    }
  }
  out[0] = (out[0] as number) - (nu / (4 * Math.PI)) * re
  out[1] = (out[1] as number) - (nu / (4 * Math.PI)) * im
}

/** A wave's strength at a place of the edge: the cubic through the four nearest steps. */
export function setStrength({ lengthM }: BoxEdge, { re, im }: EdgeWave, s: number, out: Float64Array): void {
  const place = (s / lengthM) * (re.length - 1)
  const at = Math.max(0, Math.min(re.length - 4, Math.floor(place) - 1))
  const t = place - at
  const [t1, t2, t3] = [t - 1, t - 2, t - 3]
  const [a, b, c, d] = [(-t1 * t2 * t3) / 6, (t * t2 * t3) / 2, (-t * t1 * t3) / 2, (t * t1 * t2) / 6]
  const of = (values: Float64Array): number =>
    a * (values[at] as number) +
    b * (values[at + 1] as number) +
    c * (values[at + 2] as number) +
    d * (values[at + 3] as number)
  out[0] = of(re)
  out[1] = of(im)
}

/** Below this share the strength behind the edge is not asked for: it takes a pressure of the wave. */
const leastShare = 1e-3

const nothingMore: readonly [number, number] = [0, 0]

/** What has to be added to the wave's strength along the edge so that it fits the wave straight behind it; see addEdgeSound. */
export function strengthBehind(
  edge: BoxEdge,
  wave: EdgeWave,
  wavenumber: number,
  { along, reach, theta }: EdgeReceiver,
  crossing: number,
): readonly [number, number] {
  const { alongM, reachM, spreadM } = wave
  const m = Math.sqrt(spreadM ** 2 + (crossing - alongM) ** 2)
  const l = Math.sqrt(reach ** 2 + (crossing - along) ** 2)
  const straight = Math.sqrt(
    spreadM * spreadM + reach * reach - 2 * spreadM * reach * Math.cos(theta) + (along - alongM) ** 2,
  )
  const share = Math.exp(-wavenumber * Math.max(0, m + l - straight))
  if (share < leastShare) return nothingMore
  // The receiver turned round the edge into the plane of the face
  const behind = new Float64Array(2)
  wave.pressureAt(
    edge.x + along * edge.alongX - reach * edge.faceX,
    edge.y + along * edge.alongY - reach * edge.faceY,
    edge.z + along * edge.alongZ - reach * edge.faceZ,
    behind,
  )
  const phase = wavenumber * (Math.sqrt(reachM ** 2 + (crossing - alongM) ** 2) + l)
  const [c, d] = [(Math.cos(phase) * (m + l)) / m, (Math.sin(phase) * (m + l)) / m]
  setStrength(edge, wave, crossing, strength)
  const [a, b] = [strength[0] as number, strength[1] as number]
  const [re, im] = [behind[0] as number, behind[1] as number]
  return [share * (re * c - im * d - a), share * (re * d + im * c - b)]
}

/**
 * A wave at an edge from the pressure that it has there; see EdgeWave.
 *
 * @param steps       even steps along the edge, at least 3
 * @param pressureAt  the wave's free-field pressure
 */
export function edgeWave(
  edge: BoxEdge,
  source: { alongM: number; reachM: number; spreadM: number },
  wavenumber: number,
  steps: number,
  pressureAt: PressureAt,
): EdgeWave {
  const wave = { re: new Float64Array(steps + 1), im: new Float64Array(steps + 1), ...source, pressureAt }
  const out = new Float64Array(2)
  for (let i = 0; i <= steps; i++) {
    const s = (edge.lengthM * i) / steps
    out.fill(0)
    pressureAt(edge.x + s * edge.alongX, edge.y + s * edge.alongY, edge.z + s * edge.alongZ, out)
    const phase = wavenumber * Math.hypot(source.reachM, s - source.alongM)
    const [c, d] = [Math.cos(phase), Math.sin(phase)]
    wave.re[i] = (out[0] as number) * c - (out[1] as number) * d
    wave.im[i] = (out[0] as number) * d + (out[1] as number) * c
  }
  return wave
}
