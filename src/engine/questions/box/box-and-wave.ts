import {
  amplitudeLevelDb,
  amplitudeRatio,
  boundaryElementCeilingHz,
  type Cabinet,
  type Complex,
  crossoverResponse,
  divide,
  fromPolar,
  impulseResponse,
  magnitude,
  monopole,
  multiply,
  type PlanPressure,
  planWavesReFront,
  type Rig,
  rigField,
  solveCabinet,
  sphereCabinet,
  thirdOctaveBands,
  wrapFrequencyHz,
} from '../../../acoustics/index.ts'
import { type AirState, airOf, type InAir, usualAir } from '../../scene/air.ts'
import type { Picture } from '../../scene/picture.ts'
import { late, type Responses } from '../../scene/responses.ts'
import { type BoxPattern, type BoxShape, bandBoostDb, boxRearRatio } from './box-pattern.ts'

/** The table runs from where the box is a fortieth of a wave wide and makes no difference yet to half a metre at 20 kHz, Hz·m. */
const tableHzM = { from: 8, to: 10_000 }

/** Fine enough that a straight line between neighbours is within 0.1 dB down to a shadow of 12 dB. */
const stepsPerOctave = 12

/** Far enough away to count as infinity for a box 1 m wide, m; kr is then still exact to 1e-8 rad. */
const farM = 1e5

/** Extra way from the middle of the front to its side edge, per width: what the wave runs before it can turn back. */
const edgeWayPerWidth = 0.5

/** The proportions of a cabinet with one cone, the cone moved to the middle of the front. */
export function boxShape(cabinet: Cabinet): BoxShape {
  const cone = cabinet.drivers.find((driver) => driver.kind === 'piston')
  if (!cone) throw new RangeError('cabinet.drivers holds no piston; allowed is a cabinet with a cone')
  return {
    heightPerWidth: cabinet.heightM / cabinet.widthM,
    depthPerWidth: cabinet.depthM / cabinet.widthM,
    coneRadiusPerWidth: cone.radiusM / cabinet.widthM,
  }
}

/** A box of a shape and a width, m. */
export const boxOfWidth = (shape: BoxShape, widthM: number): Cabinet => ({
  widthM,
  heightM: shape.heightPerWidth * widthM,
  depthM: shape.depthPerWidth * widthM,
  drivers: [{ kind: 'piston', radiusM: shape.coneRadiusPerWidth * widthM, xM: 0, yM: 0 }],
})

/**
 * The pattern of a shape, far away and in the plane of its cone, solved by boundary elements up to their ceiling and by the
 * high-frequency model, anchored there, above it; free field, usual air. It takes some seconds: the site's own is kept as a file,
 * see demoBoxPattern.
 *
 * @param shape  a cabinet (see checkCabinet) at a width of 1 m
 * @throws RangeError for another shape
 */
export function boxPattern(shape: BoxShape): BoxPattern {
  const lines = patternLines()
  const air = airOf(usualAir)
  const made: BoxPattern = {
    shape,
    speedOfSoundMps: air.speedOfSoundMps,
    fromHzM: tableHzM.from,
    stepsPerOctave,
    frontGainDb: [],
    sideDb: [],
    rearRe: [],
    rearIm: [],
    estimateFromHzM: boundaryElementCeilingHz(boxOfWidth(shape, 1), air),
  }
  for (let line = 0; line < lines; line++) {
    const { frontGainDb, sideDb, rear } = patternLine(shape, line)
    made.frontGainDb.push(frontGainDb)
    made.sideDb.push(sideDb)
    made.rearRe.push(rear.re)
    made.rearIm.push(rear.im)
  }
  return made
}

/** How many lines a pattern has. */
export const patternLines = (): number => Math.floor(stepsPerOctave * Math.log2(tableHzM.to / tableHzM.from)) + 1

/**
 * One line of boxPattern.
 *
 * @param line  0 … patternLines() − 1
 */
export function patternLine(
  shape: BoxShape,
  line: number,
): { frontGainDb: number; sideDb: number; rear: { re: number; im: number } } {
  const frequencyHz = tableHzM.from * 2 ** (line / stepsPerOctave)
  const air = airOf(usualAir)
  const radiation = solveCabinet(boxOfWidth(shape, 1), frequencyHz, air)
  const front = radiation.pressureAt({ xM: 0, yM: 0, zM: farM })
  const behind = radiation.pressureAt({ xM: 0, yM: 0, zM: -farM })
  const free = monopole(frequencyHz, air).pressureAt({ xM: 0, yM: 0, zM: farM })
  const edgeRad = (2 * Math.PI * frequencyHz * edgeWayPerWidth) / air.speedOfSoundMps
  return {
    frontGainDb: amplitudeLevelDb(magnitude(front) / magnitude(free)),
    sideDb: radiation.farFieldDb(Math.PI / 2, 0),
    rear: multiply(divide(behind, front), fromPolar(1, edgeRad)),
  }
}

/** A picture of the waves of one box: ±halfM round the middle of its front, `cells` lines each way (odd), in the plane of the cone. */
export type BoxPictureQuestion = InAir & {
  shape: BoxShape
  widthM: number
  frequencyHz: number
  halfM: number
  cells: number
  /** 'ball' is the hard ball of equal surface, at once; 'solved' is the box itself by boundary elements. */
  model: 'ball' | 'solved'
}

/** Height at which the box hangs, m: a rig has a floor, though nothing here reflects from it. */
const coneHeightM = 2

/** The waves round a box re the front at the same distance from the middle of the front face. One half is computed, the other is its mirror image. */
export function boxPicture(question: BoxPictureQuestion): Picture & PlanPressure {
  const { shape, widthM, frequencyHz, halfM, cells, model } = question
  if (cells % 2 !== 1) throw new RangeError(`cells is ${cells}; allowed is an odd number, so that one line is the axis`)
  const { drivers, ...size } = boxOfWidth(shape, widthM)
  const rig: Rig = {
    name: 'box',
    cabinets: [
      {
        name: 'box',
        ...size,
        frontCentre: { xM: 0, yM: coneHeightM, zM: 0 },
        ways: [{ name: 'cone', drivers }],
      },
    ],
  }
  const columns = (cells + 1) / 2
  const grid = { xMinM: 0, xMaxM: halfM, zMinM: -halfM, zMaxM: halfM, columns, rows: cells, heightM: coneHeightM }
  const field = rigField(rig, airOf(question.air), model === 'ball' ? sphereCabinet : solveCabinet)
  const half = planWavesReFront(field, grid, frequencyHz)
  const mirrored = <T extends Float32Array | Uint8Array>(values: T, whole: T): T => {
    for (let row = 0; row < cells; row++)
      for (let column = 0; column < cells; column++)
        whole[row * cells + column] = values[row * columns + Math.abs(column - columns + 1)] ?? 0
    return whole
  }
  return {
    kind: 'waves',
    columns: cells,
    rows: cells,
    re: mirrored(half.re, new Float32Array(cells * cells)),
    im: mirrored(half.im, new Float32Array(cells * cells)),
    inside: mirrored(half.inside, new Uint8Array(cells * cells)),
  }
}

/** bandHz: a nominal third octave, or undefined for everything. */
export type BoxResponseQuestion = InAir & {
  pattern: BoxPattern
  widthM: number
  bandHz: number | undefined
  sampleRateHz: number
}

/**
 * Impulse responses behind a box and in front, far away and at the same distance, 0 dB = in front, where makers set a box
 * flat. The band filter is the same at both places, so that what differs is the box.
 */
export function boxResponses({ pattern, widthM, bandHz, sampleRateHz, air }: BoxResponseQuestion): Responses {
  const filter = bandHz === undefined ? () => ({ re: 1, im: 0 }) : bandPass(bandHz)
  const length = responseLength(bandHz, sampleRateHz)
  const response = (place: (frequencyHz: number) => Complex) =>
    impulseResponse((frequencyHz) => multiply(multiply(place(frequencyHz), filter(frequencyHz)), late(frequencyHz)), {
      sampleRateHz,
      length,
    })
  return {
    here: response((frequencyHz) => boxRearRatio(pattern, widthM, Math.max(frequencyHz, 1e-3), air)),
    front: response(() => ({ re: 1, im: 0 })),
  }
}

/** Three poles each side: 49 dB down an octave away, and a ring short enough to listen to while the band changes. */
const bandPassPoles = 3

/** A third-octave band-pass, Butterworth, causal: the low-pass prototype at Ω = Q (f/f₀ − f₀/f). */
function bandPass(nominalHz: number): (frequencyHz: number) => Complex {
  const [band] = thirdOctaveBands(nominalHz, nominalHz)
  if (!band) throw new RangeError(`bandHz is ${nominalHz}; allowed is a nominal third octave`)
  const q = band.centreHz / (band.upperHz - band.lowerHz)
  const boost = amplitudeRatio(bandBoostDb)
  return (frequencyHz) => {
    if (frequencyHz === 0) return { re: 0, im: 0 }
    const omega = q * (frequencyHz / band.centreHz - band.centreHz / frequencyHz)
    if (Math.abs(omega) > 1e5) return { re: 0, im: 0 }
    const { re, im } = crossoverResponse(
      { alignment: 'butterworth', order: bandPassPoles, frequencyHz: 1 },
      'low-pass',
      Math.abs(omega),
    )
    return { re: boost * re, im: boost * (omega < 0 ? -im : im) }
  }
}

/** Samples until the ring of the band is 80 dB down (six times one over the bandwidth), a power of two; at least 8192. */
function responseLength(bandHz: number | undefined, sampleRateHz: number): number {
  const ringS = bandHz === undefined ? 0 : 6 / (bandHz * (10 ** 0.05 - 10 ** -0.05))
  return Math.max(8192, 2 ** Math.ceil(Math.log2(ringS * sampleRateHz)))
}

/** What two microphones show, and what it is made of; dB, rear minus front. total = path + round + steered. */
export type FaceToFace = { totalDb: number; pathDb: number; roundDb: number; steeredDb: number }

/**
 * Two microphones at the same distance from a cabinet's front face and from its back, in the plane of the cone.
 *
 * - path: the rear one is farther from the front face, where the sound comes out, by the depth: 20 lg(r / (r + depth))
 * - steered: what the cabinet takes from the rear far away, where distances no longer matter
 * - round: the rest. Near the cabinet the wave has to go out to the edge and back in; far away that is nothing.
 *
 * @param cabinet      one cone
 * @param distanceM    of each microphone from its face, above 0
 * @param frequencyHz  one frequency
 * @throws RangeError  for arguments out of range
 */
export function faceToFace(cabinet: Cabinet, distanceM: number, frequencyHz: number, air?: AirState): FaceToFace {
  if (!(distanceM > 0)) throw new RangeError(`distanceM is ${distanceM}; allowed is a number above 0 m`)
  const radiation = solveCabinet(cabinet, frequencyHz, airOf(air))
  const levelAt = (zM: number) => amplitudeLevelDb(magnitude(radiation.pressureAt({ xM: 0, yM: 0, zM })))
  const totalDb = levelAt(-cabinet.depthM - distanceM) - levelAt(distanceM)
  const pathDb = amplitudeLevelDb(distanceM / (distanceM + cabinet.depthM))
  const steeredDb = radiation.farFieldDb(Math.PI, 0)
  return { totalDb, pathDb, steeredDb, roundDb: totalDb - pathDb - steeredDb }
}

/** Lines an octave that the search for a cabinet's own shadow looks at. */
const searchedPerOctave = 6

/**
 * Where a cabinet of any shape begins to cast its shadow, Hz: rear 6 dB under front, far away.
 *
 * @param cabinet      see checkCabinet
 * @throws RangeError  if that is not between a tenth of a wave in its width and one whole wave
 */
export function cabinetShadowHz(cabinet: Cabinet, state?: AirState): number {
  const air = airOf(state)
  const lowestHz = (0.1 * air.speedOfSoundMps) / cabinet.widthM
  const lines = Math.ceil(searchedPerOctave * Math.log2(10)) + 1
  const frequenciesHz = Array.from({ length: lines }, (_, line) => lowestHz * 2 ** (line / searchedPerOctave))
  const rearDb = frequenciesHz.map((frequencyHz) => solveCabinet(cabinet, frequencyHz, air).farFieldDb(Math.PI, 0))
  const shadowHz = wrapFrequencyHz(frequenciesHz, rearDb)
  if (typeof shadowHz === 'number') return shadowHz
  throw new RangeError(
    `the shadow begins ${shadowHz} the searched range; allowed is ${lowestHz} to ${10 * lowestHz} Hz`,
  )
}
