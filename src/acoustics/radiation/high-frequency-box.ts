import type { Air } from '../medium/air.ts'
import type { Point } from '../point.ts'
import { type Apertures, driverApertures } from './boundary-elements/driver-apertures.ts'
import { type Cabinet, driverHalfSizeM } from './cabinet.ts'
import type { BoxEdge, PressureAt } from './high-frequency-edge.ts'
import { addLitEdge, type EdgePlaces, edgePlaces, type LitWave, litWave } from './lit-edge.ts'

/** Sound of a box by rays: the drivers in a baffle, and what the box's edges send on. */
export type EdgeModel = {
  /** Pressure at a point outside the box in the cabinet's own coordinates, Pa. */
  pressureAt(point: Point): { re: number; im: number }
  /** Power that the drivers give off in an endless baffle, W; worked out when first called. */
  baffledPowerW(): number
  /** Root-mean-square free-field pressure along the front edges, Pa: how strongly the edges are lit. */
  edgePressurePa: number
}

type LitEdge = { edge: BoxEdge; waves: LitWave[] }

/**
 * A box at high frequencies, for waves shorter than the box: no equations are solved.
 *
 * - In front, twice the drivers' free-field potential, as in an endless baffle, each horn with its wavefront.
 * - Each of the four front edges sends on what reaches it along the face (addLitEdge), to all sides that see it: this
 *   makes up for the baffle's end, fills the sides and joins both without a step.
 * - What a front edge sends across the front face turns again at the other three; it comes there as if from the driver's
 *   mirror image in that edge.
 * - Each of the four rear edges sends on what the front edge of its face sent along that face. The wave there spreads as
 *   from √(d (d + a)) behind the rear edge (d depth, a from driver to front edge), which has the right loss with distance.
 *
 * Left out: sound that runs from one front edge across the face to another, sound that turns three edges, the edges between
 * side faces, and corners. Against boundary elements, box 0.32 × 0.56 × 0.30 m, 2 and 3 kHz, two planes: front half 0.3 dB,
 * to 90° 1 dB, behind it 1 dB typically and 3 dB at worst, more only in nulls: so the deep rear is an estimate. What is left
 * out also leaves small steps where a far edge sets behind the box, up to 0.5 dB in the plane of the front face.
 *
 * @param cabinet      checked
 * @param frequencyHz  checked
 * @param air          checked
 * Source: see addEdgeSound; edges in turn as in any theory of diffraction by rays.
 */
export function edgeModel(cabinet: Cabinet, frequencyHz: number, air: Air): EdgeModel {
  const omegaRho = 2 * Math.PI * frequencyHz * air.densityKgM3
  const wavenumber = (2 * Math.PI * frequencyHz) / air.speedOfSoundMps
  const { widthM, heightM, depthM } = cabinet
  const apertures = driverApertures(cabinet.drivers, frequencyHz, wavenumber)
  const fronts = boxFrontEdges(widthM, heightM)
  const places = fronts.map((front) => edgePlaces(front, wavenumber, nearestM(front, cabinet)))
  // What is alike left and right lights the left edges as it lights the right ones, which come before them.
  const isAlike = cabinet.drivers.every(({ xM }) => xM === 0)
  const firstWaves: LitWave[][] = []
  for (const [f, front] of fronts.entries()) {
    const [right] = firstWaves
    firstWaves.push(
      isAlike && f === 1
        ? (right as LitWave[]).map(mirrored)
        : apertures.parts.map(({ xM, yM, addPotential }) => {
            const source = placeAtEdge(front, xM, yM)
            return litWave(front, places[f] as EdgePlaces, { ...source, spreadM: source.reachM }, addPotential)
          }),
    )
  }
  const edges: LitEdge[] = []
  for (const [f, front] of fronts.entries()) {
    const rear = rearEdge(front, depthM)
    if (isAlike && f === 1) {
      const [rightFront, rightRear] = edges as [LitEdge, LitEdge]
      edges.push({ edge: front, waves: rightFront.waves.map(mirrored) })
      edges.push({ edge: rear, waves: rightRear.waves.map(mirrored) })
      continue
    }
    const first = firstWaves[f] as LitWave[]
    const own = places[f] as EdgePlaces
    const across = fronts.flatMap((other, o) => {
      if (o === f) return []
      return apertures.parts.map(({ xM, yM }, i) => {
        const source = placeAtEdge(front, ...mirroredAtEdge(other, xM, yM))
        const sound = halfEdgeSound(other, [firstWaves[o]?.[i] as LitWave])
        return litWave(front, own, { ...source, spreadM: source.reachM }, sound)
      })
    })
    const behind = first.map((wave, i) => {
      const source = {
        alongM: wave.alongM,
        reachM: wave.reachM + depthM,
        spreadM: Math.sqrt(depthM * (depthM + wave.reachM)),
      }
      // The driver's own wave, and those of its three images, as one.
      const ofDriver = [wave, ...across.filter((_, a) => a % first.length === i)]
      return litWave(rear, own, source, halfEdgeSound(front, ofDriver))
    })
    edges.push({ edge: front, waves: [...first, ...across] }, { edge: rear, waves: behind })
  }
  const sum = new Float64Array(2)
  let powerW: number | undefined
  return {
    baffledPowerW() {
      powerW ??= baffledPowerW(apertures, wavenumber, omegaRho)
      return powerW
    },
    edgePressurePa: omegaRho * edgePotential(firstWaves),
    pressureAt(point) {
      sum.fill(0)
      const { xM, yM, zM } = offBorders(cabinet, point)
      if (zM >= 0) {
        apertures.addPotential(xM, yM, zM, sum)
        sum[0] = 2 * (sum[0] as number)
        sum[1] = 2 * (sum[1] as number)
      }
      for (const { edge, waves } of edges) addLitEdge(edge, waves, xM, yM, zM, sum)
      // times jωρ
      return { re: -omegaRho * (sum[1] as number), im: omegaRho * (sum[0] as number) }
    },
  }
}

/** A wave of the right half at the same edge of the left one. */
const mirrored = (wave: LitWave): LitWave => ({
  ...wave,
  pressureAt: (x, y, z, out) => wave.pressureAt(-x, y, z, out),
})

/** Foot and distance of a place on the front face, as an edge sees it, m. */
function placeAtEdge(edge: BoxEdge, xM: number, yM: number): { alongM: number; reachM: number } {
  return {
    alongM: (xM - edge.x) * edge.alongX + (yM - edge.y) * edge.alongY,
    reachM: (xM - edge.x) * edge.faceX + (yM - edge.y) * edge.faceY,
  }
}

/** A rim that runs along an edge lights it as unevenly as a small source so many times as far away. */
const rimShare = 4

/** How near the drivers come to an edge of the front, as small sources would, m. */
function nearestM(edge: BoxEdge, { drivers }: Cabinet): number {
  const nearM = drivers.map((driver) => {
    const { halfWidthM, halfHeightM } = driverHalfSizeM(driver)
    const { reachM } = placeAtEdge(edge, driver.xM, driver.yM)
    const rimM = reachM - Math.abs(edge.faceX) * halfWidthM - Math.abs(edge.faceY) * halfHeightM
    return Math.min(reachM, rimShare * rimM)
  })
  return Math.max(0, Math.min(...nearM))
}

/** Where a place on the front face is seen in an edge as in a mirror. */
function mirroredAtEdge(edge: BoxEdge, xM: number, yM: number): [number, number] {
  const twiceM = 2 * placeAtEdge(edge, xM, yM).reachM
  return [xM - twiceM * edge.faceX, yM - twiceM * edge.faceY]
}

/** What an edge sends along a face: half of its sound there, because the face has doubled it already. */
function halfEdgeSound(edge: BoxEdge, waves: LitWave[]): PressureAt {
  const one = new Float64Array(2)
  return (x, y, z, out) => {
    one.fill(0)
    addLitEdge(edge, waves, x, y, z, one)
    out[0] = (out[0] as number) + (one[0] as number) / 2
    out[1] = (out[1] as number) + (one[1] as number) / 2
  }
}

/** Points nearer to a border than this share of their distance are moved off it. */
const borderShare = 1e-5

/**
 * The point, moved a little to the lit side if it lies on the border between what an edge's wave and what the edge itself
 * sends. Each of the two jumps there and only their sum does not, so both must see the point on the same side.
 */
function offBorders({ widthM, heightM, depthM }: Cabinet, { xM, yM, zM }: Point): Point {
  const slackM = borderShare * Math.hypot(xM, yM, zM + depthM / 2)
  const off = (coordinateM: number, faceM: number): number =>
    Math.abs(Math.abs(coordinateM) - faceM) < slackM ? Math.sign(coordinateM) * (faceM + slackM) : coordinateM
  const onFrontFace = zM >= 0 && Math.abs(xM) <= widthM / 2 && Math.abs(yM) <= heightM / 2
  if (zM > slackM || onFrontFace) return { xM, yM, zM }
  if (zM > -slackM) return { xM, yM, zM: slackM }
  return { xM: off(xM, widthM / 2), yM: off(yM, heightM / 2), zM }
}

/** Root of the mean square of the first waves, over even steps of each edge. */
function edgePotential(firstWaves: LitWave[][]): number {
  let sum = 0
  for (const waves of firstWaves) {
    const steps = waves[0]?.re.length ?? 0
    for (let s = 0; s < steps; s++) {
      let re = 0
      let im = 0
      for (const wave of waves) {
        re += wave.re[s] as number
        im += wave.im[s] as number
      }
      sum += (re * re + im * im) / steps
    }
  }
  return Math.sqrt(sum / firstWaves.length)
}

/** The four edges of the front face, z = 0. */
function boxFrontEdges(widthM: number, heightM: number): BoxEdge[] {
  const [x, y] = [widthM / 2, heightM / 2]
  const front = { z: 0, alongZ: 0, faceZ: 0, outX: 0, outY: 0, outZ: 1 }
  return [
    { ...front, x, y: -y, alongX: 0, alongY: 1, lengthM: heightM, faceX: -1, faceY: 0 },
    { ...front, x: -x, y: -y, alongX: 0, alongY: 1, lengthM: heightM, faceX: 1, faceY: 0 },
    { ...front, x: -x, y, alongX: 1, alongY: 0, lengthM: widthM, faceX: 0, faceY: -1 },
    { ...front, x: -x, y: -y, alongX: 1, alongY: 0, lengthM: widthM, faceX: 0, faceY: 1 },
  ]
}

/** The edge behind a front edge: sound comes to it along the side face, from the front. */
function rearEdge(front: BoxEdge, depthM: number): BoxEdge {
  return {
    ...front,
    z: -depthM,
    faceX: 0,
    faceY: 0,
    faceZ: 1,
    outX: -front.faceX,
    outY: -front.faceY,
    outZ: 0,
  }
}

/**
 * W = ½ Re ∫ p v* dS with p = 2jωρ ∫ G v dS. Only the smooth part of G, sin(kR)/4πR, carries power, so the sum over pairs of
 * Gauss points meets no singularity:  W = ωρ Σ_i Σ_j Re(v_i v_j*) sin(kR_ij)/4πR_ij.
 */
function baffledPowerW({ nodes }: Apertures, wavenumber: number, omegaRho: number): number {
  const { x, y, re, im } = nodes
  let sum = 0
  for (let i = 0; i < x.length; i++) {
    const [xi, yi, a, b] = [x[i], y[i], re[i], im[i]] as [number, number, number, number]
    let others = 0
    for (let j = 0; j < i; j++) {
      const dx = (x[j] as number) - xi
      const dy = (y[j] as number) - yi
      const distance = Math.sqrt(dx * dx + dy * dy)
      const share = a * (re[j] as number) + b * (im[j] as number)
      // Two drivers' points may meet; the limit is k.
      others += share * (distance > 0 ? Math.sin(wavenumber * distance) / distance : wavenumber)
    }
    sum += 2 * others + wavenumber * (a * a + b * b)
  }
  return (omegaRho * sum) / (4 * Math.PI)
}
