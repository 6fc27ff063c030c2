import { driverLine } from '../../../src/acoustics/index.ts'
import { air, crossing, linesBetween } from './plain-rig.ts'
import { c, once, plain, printedSpeed, type Routes, readOut, route } from './route.ts'

const degree = Math.PI / 180
const [count, spacingM, driverRadiusM] = [8, 0.1125, 0.032]
const lengthM = count * spacingM
/** A round body with the girth of a box of 0.11 by 0.12 m. */
const columnRadiusM = (2 * (0.11 + 0.12)) / (2 * Math.PI)

/** One driver in the body alone: its field is held against published series (cylinder-driver-…). */
const single = (hz: number) => driverLine({ count: 1, spacingM: 1, driverRadiusM, columnRadiusM }, hz, air)
/** The row's own factor, the plain sum of eight paths. */
function rowFactor(hz: number, sine: number): number {
  const step = ((2 * Math.PI * hz) / c) * spacingM * sine
  let re = 0
  for (let i = 0; i < count; i++) re += Math.cos((i - (count - 1) / 2) * step)
  return re / count
}
const lines = (hz: number) => {
  const centre = 10 ** (Math.round(10 * Math.log10(hz)) / 10)
  return linesBetween(centre * 10 ** -0.05, centre * 10 ** 0.05, 15)
}
/** Product of one driver and the row, in energy over the third octave, dB under the axis. */
const under = (hz: number, roundDeg: number, upDeg: number) => {
  const energy = lines(hz).reduce((sum, f) => {
    const alone = 10 ** (single(f).farFieldDb(roundDeg * degree, upDeg * degree) / 10)
    return sum + alone * rowFactor(f, Math.sin(upDeg * degree)) ** 2
  }, 0)
  return -10 * Math.log10(energy / lines(hz).length)
}
const because = 'five lines a third octave on the page, fifteen here'

/** The row at a place: eight drivers, each alone, summed where they are; re the axis at the same distance. */
const seated = once(() => {
  const place = { yM: 1.2 - 1.6, zM: 2.5 }
  const atM = Math.hypot(place.yM, place.zM)
  const energy = lines(2000).map((hz) => {
    const { pressureAt } = single(hz)
    const sum = (yM: number, zM: number) => {
      let [re, im] = [0, 0]
      for (let i = 0; i < count; i++) {
        const p = pressureAt({ xM: 0, yM: yM - (i - (count - 1) / 2) * spacingM, zM })
        re += p.re
        im += p.im
      }
      return re * re + im * im
    }
    return sum(place.yM, place.zM) / sum(0, atM)
  })
  return -10 * Math.log10(energy.reduce((a, b) => a + b, 0) / energy.length)
})

/** Just under a wavelength between the drivers. */
const nearlyHz = (0.95 * c) / spacingM
const asin = (sine: number) => Math.asin(sine) / degree

export const columnRoutes: Routes = {
  ...Object.fromEntries(
    [100, 400, 1000, 4000].flatMap((hz) => [
      [`waves-${hz}`, route(() => (lengthM * hz) / c, 0.001 * ((lengthM * hz) / c), printedSpeed)],
      [`above-${hz}`, route(() => under(hz, 0, 30), 0.3, because)],
      [`beside-${hz}`, route(() => under(hz, 90, 0), 0.1, because)],
      [`behind-${hz}`, route(() => under(hz, 180, 0), 0.1, because)],
    ]),
  ),
  count: plain(count),
  length: plain(lengthM),
  spacing: plain(spacingM),
  'one-wave-hz': route(() => c / lengthM, 0.1, printedSpeed),
  'first-null-1000': route(() => asin(c / 1000 / lengthM), 0.01, printedSpeed),
  'half-1000': route(() => asin((1.895494267033981 * c) / 1000 / (Math.PI * lengthM)), 0.01, printedSpeed),
  'further-beam-from-hz': route(
    () => crossing((hz) => rowFactor(hz, 1), 2500, 2800),
    1,
    `the sum's zero is searched; ${printedSpeed}`,
  ),
  'nearly-further-beam-hz': route(() => nearlyHz, 1, printedSpeed),
  'nearly-further-beam-up': route(
    () => -20 * Math.log10(Math.abs(rowFactor(nearlyHz, 1))),
    1e-6,
    'closed form against the sum, both at 0.95 of a wave; rounding only',
  ),
  'further-beam-hz': route(() => c / spacingM, 1, printedSpeed),
  'further-beam-4000': route(() => asin(c / 4000 / spacingM), 0.02, printedSpeed),
  'seated-2000': route(seated, 0.3, because),
  'seated-tilt': plain(Math.round(Math.atan2(1.6 - 1.2, 2.5) / degree)),
  'solved-behind-1000': readOut(
    'the box of the column solved by boundary elements at one frequency',
    'column-against-solved-box-1000-180',
    'box-other-method-1100-0',
  ),
}
