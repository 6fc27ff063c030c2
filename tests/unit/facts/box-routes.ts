import measured from '../../../content/measured/two-way-with-port.json' with { type: 'json' }
import { type Cabinet, solveCabinet } from '../../../src/acoustics/index.ts'
import boxes from '../../evidence/reference/page-boxes.json' with { type: 'json' }
import { air, crossing, levelOf, rig } from './plain-rig.ts'
import { c, once, plain, printedSpeed, type Routes, readOut, route } from './route.ts'

/** A cabinet of the rig with its cone alone. */
export const conesOf = (name: string): Cabinet => {
  const found = rig.cabinets.find((cabinet) => cabinet.name === name)
  const drivers = found?.ways.flatMap((way) => way.drivers).filter((driver) => driver.kind === 'piston')
  if (!found || !drivers) throw new Error(`the rig has no ${name}`)
  return { widthM: found.widthM, heightM: found.heightM, depthM: found.depthM, drivers }
}
const [top, sub] = [conesOf('top'), conesOf('sub')]

/** The top's proportions at another width, its cone in the middle. */
const widthM = 0.5
const scale = widthM / top.widthM
const cone = top.drivers[0]
if (cone?.kind !== 'piston') throw new Error('the top has no cone')
const box: Cabinet = {
  widthM,
  heightM: scale * top.heightM,
  depthM: scale * top.depthM,
  drivers: [{ kind: 'piston', radiusM: scale * cone.radiusM, xM: 0, yM: 0 }],
}

const rearDb = (cabinet: Cabinet, hz: number): number => solveCabinet(cabinet, hz, air).farFieldDb(Math.PI, 0)
/** Where the rear is so far under the front, by halving on fresh solutions. */
const downAt = (cabinet: Cabinet, dropDb: number, lowHz: number, highHz: number): number =>
  crossing((hz) => rearDb(cabinet, hz) + dropDb, lowHz, highHz, 14)
const sixHz = once(() => downAt(box, 6, 150, 500))
const oneHz = once(() => downAt(box, 1, 40, 200))
const tenHz = once(() => downAt(box, 10, 200, 700))
const table =
  'the page reads a table of twelve lines an octave by straight lines, which is within 0.1 dB, and the rear falls by some 5 dB an octave or more here'
const near = (value: () => number, part = 0.02) => route(value, part, table)
const hertzRoute = (value: () => number, aboutHz: number) => near(value, 0.02 * aboutHz)

const [ruleHz, kaHz] = [c / widthM, c / (Math.PI * widthM)]
const microphone = once(() => {
  const { pressureAt, farFieldDb } = solveCabinet(sub, 63, air)
  const level = (zM: number) => levelOf(pressureAt({ xM: 0, yM: 0, zM }))
  const total = level(2) - level(-sub.depthM - 2)
  const path = 20 * Math.log10((2 + sub.depthM) / 2)
  // Far away the levels at two places on the axis tell what the box takes from the rear.
  const steered = level(5e4) - level(-5e4)
  return { total, path, steered, round: total - path - steered, far: -farFieldDb(Math.PI, 0) }
})

const solvedElsewhere = (name: 'top' | 'sub', ourHz: number) =>
  route(
    () => boxes.shadowHz.value[name],
    ourHz + boxes.shadowHz.scatter[name],
    `digits of another program; ${ourHz} Hz is 0.1 dB of our mesh by the slope there, the rest is between two meshes of that program`,
  )
const { cabinet: realBox } = measured

/** Highest level in front re the same flow in free space, over the range where the sum of box and edges peaks. */
const gain = once(() => {
  const lines = Array.from({ length: 25 }, (_, i) => 150 * 2 ** (i / 8))
  return Math.max(
    ...lines.map((hz) => {
      const free = (hz * air.densityKgM3) / 2 / 1e5
      return (
        20 *
        Math.log10(
          Math.hypot(...Object.values(solveCabinet(box, hz, air).pressureAt({ xM: 0, yM: 0, zM: 1e5 }))) / free,
        )
      )
    }),
  )
})

const toTenth = 'told to 0.1 dB; half of that, and the solution'
export const boxRoutes: Routes = {
  'guessed-width': plain(widthM),
  shadow: hertzRoute(sixHz, 250),
  'width-rule': route(() => ruleHz, 0.1, printedSpeed),
  'ka-rule': route(() => kaHz, 0.05, printedSpeed),
  'width-rule-octaves-high': near(() => Math.log2(ruleHz / sixHz()), 0.03),
  'ka-rule-octaves-low': near(() => Math.log2(sixHz() / kaHz), 0.03),
  'drop-at-width-rule': near(() => -rearDb(box, ruleHz), 0.2),
  'drop-at-ka-rule': near(() => -rearDb(box, kaHz), 0.1),
  'shadow-wavelengths': near(() => c / sixHz() / widthM, 0.06),
  'drop-two-octaves-below': near(() => -rearDb(box, sixHz() / 4), 0.05),
  'gradual-from': hertzRoute(oneHz, 150),
  'gradual-to': hertzRoute(tenHz, 400),
  'gradual-octaves': near(() => Math.log2(tenHz() / oneHz()), 0.06),
  number: near(() => sixHz() * widthM, 3),
  'front-gain-high': near(gain, 0.15),
  'wavelength-60': route(() => c / 60, 0.001, printedSpeed),
  'wavelength-2k': route(() => c / 2000, 0.00004, printedSpeed),
  'top-width': plain(top.widthM),
  'top-shadow': hertzRoute(() => (sixHz() * widthM) / top.widthM, 400),
  'top-own-shadow': solvedElsewhere('top', 4),
  'sub-width': plain(sub.widthM),
  'sub-depth': plain(sub.depthM),
  'sub-by-number': hertzRoute(() => (sixHz() * widthM) / sub.widthM, 250),
  'sub-shadow': hertzRoute(() => downAt(sub, 6, 100, 400), 250),
  'microphone-distance': plain(2),
  'microphones-total': route(() => microphone().total, 0.06, toTenth),
  'microphones-path': route(() => microphone().path, 0.051, toTenth),
  'microphones-round': route(() => microphone().round, 0.16, 'what is left of three numbers rounded to 0.1 dB'),
  'microphones-steered': route(() => microphone().steered, 0.06, toTenth),
  'real-width': plain(realBox.widthM),
  'real-height': plain(realBox.heightM),
  'real-depth': plain(realBox.depthM),
  'real-distance': plain(measured.distanceM),
  'real-from': plain(Math.min(...measured.rearReFront.map(({ frequencyHz }) => frequencyHz))),
  'real-to': plain(605),
  'real-rms': readOut(
    'root of the mean square of computed less measured',
    'real-box-behind-rms',
    ...measured.rearReFront
      .filter(({ frequencyHz }) => frequencyHz <= 605)
      .map(({ frequencyHz }) => `real-box-behind-${Math.round(frequencyHz)}`),
  ),
  'real-pipe-at': plain(1000),
  'real-pipe-leak': readOut('measured less computed in one band', 'real-box-port-at-1000'),
}
