import measured from '../../../../content/measured/two-way-with-port.json' with { type: 'json' }
import { amplitudeLevelDb, type Cabinet, magnitude, solveCabinet } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { decibels, type Fact, hertz, metres } from '../fact.ts'

/** One third octave straight behind a real box: as measured, and as computed for a closed box of its size, dB re the front. */
export type RealBoxBand = { frequencyHz: number; measuredDb: number; computedDb: number }

/** Up to here the closed box is expected to stand for the real one, Hz: the pipe in its port begins to sound above. */
export const closedBoxToHz = 605

/** The measured band in which the pipe in the port is heard behind, Hz. */
export const pipeAtHz = 1000

/** The real box as the solver takes it: closed and hard, its cone alone. */
export const realBoxCabinet: Cabinet = {
  widthM: measured.cabinet.widthM,
  heightM: measured.cabinet.heightM,
  depthM: measured.cabinet.depthM,
  drivers: [{ kind: 'piston', radiusM: measured.cabinet.coneRadiusM, xM: 0, yM: measured.cabinet.coneYM }],
}

/** A box's rear re its front, dB: both as far from the middle of the front face, at the height of the box's middle. */
export function rearReFrontDb(cabinet: Cabinet, frequencyHz: number, distanceM: number): number {
  const { pressureAt } = solveCabinet(cabinet, frequencyHz, airOf(usualAir), { method: 'boundary-elements' })
  const at = (zM: number) => magnitude(pressureAt({ xM: 0, yM: 0, zM }))
  return amplitudeLevelDb(at(-distanceM) / at(distanceM))
}

/** How far from the box it was measured, m. */
export const measuredAtM = measured.distanceM

let solvedBands: RealBoxBand[] | undefined

/** The measured table beside what is computed; solved when first asked for. */
export function realBoxBands(): RealBoxBand[] {
  solvedBands ??= measured.rearReFront.map(({ frequencyHz, levelDb }) => ({
    frequencyHz,
    measuredDb: levelDb,
    computedDb: rearReFrontDb(realBoxCabinet, frequencyHz, measuredAtM),
  }))
  return solvedBands
}

/** Root of the mean square of computed less measured over the bands where the box may be taken as closed, dB. */
export function realBoxRmsDb(bands: RealBoxBand[]): number {
  const trusted = bands.filter(({ frequencyHz }) => frequencyHz <= closedBoxToHz)
  const sum = trusted.reduce((total, { measuredDb, computedDb }) => total + (computedDb - measuredDb) ** 2, 0)
  return Math.sqrt(sum / trusted.length)
}

/** How much more the real box sends behind than a closed one where its pipe sounds, dB. */
export function pipeLeakDb(bands: RealBoxBand[]): number {
  const band = bands.find(({ frequencyHz }) => frequencyHz === pipeAtHz)
  if (!band) throw new RangeError(`bands hold no ${pipeAtHz} Hz; allowed are those of realBoxBands`)
  return band.measuredDb - band.computedDb
}

/** The numbers of the prose about the real box. */
export function realBoxFacts() {
  const bands = realBoxBands()
  const { widthM, heightM, depthM } = realBoxCabinet
  return {
    'real-width': metres(widthM),
    'real-height': metres(heightM),
    'real-depth': metres(depthM),
    'real-distance': metres(measuredAtM),
    'real-from': hertz(bands[0]?.frequencyHz ?? 0),
    'real-to': hertz(closedBoxToHz),
    'real-rms': decibels(realBoxRmsDb(bands)),
    'real-pipe-at': hertz(pipeAtHz),
    'real-pipe-leak': decibels(pipeLeakDb(bands)),
  } satisfies Record<string, Fact>
}
