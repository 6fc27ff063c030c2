import { crossing, rig } from './plain-rig.ts'
import { c, once, plain, printedSpeed, type Routes, route } from './route.ts'

const degree = Math.PI / 180

/**
 * Level of a mouth in a baffle re straight ahead, its size in wavelengths: the plain sum over many strips of a wave from a virtual apex,
 * strength (a/ρ)^{3/2}, path ρ − a. The same integral is held against another program in horn-mouth-….
 */
function mouthDb(waves: number, coverageDeg: number, angleRad: number): number {
  const apex = waves / 2 / Math.tan((coverageDeg * degree) / 2)
  const strips = Math.max(400, Math.ceil(60 * waves))
  const sum = (sine: number) => {
    let [re, im] = [0, 0]
    for (let i = 0; i < strips; i++) {
      const x = waves * ((i + 0.5) / strips - 0.5)
      const rho = Math.hypot(apex, x)
      const strength = (apex / rho) ** 1.5
      const phase = 2 * Math.PI * (x * sine - (rho - apex))
      re += strength * Math.cos(phase)
      im += strength * Math.sin(phase)
    }
    return re * re + im * im
  }
  return 10 * Math.log10(sum(Math.sin(angleRad)) / sum(0))
}

/** Full angle between the innermost places that are 6.02 dB down, degrees; infinite if there are none in front. */
function widthDeg(waves: number, coverageDeg: number): number {
  const down = 20 * Math.log10(2)
  for (let deg = 1; deg <= 90; deg++)
    if (mouthDb(waves, coverageDeg, deg * degree) <= -down)
      return 2 * crossing((d) => mouthDb(waves, coverageDeg, d * degree) + down, deg - 1, deg, 24)
  return Number.POSITIVE_INFINITY
}

/** Mouth over wavelength from which on the beam is at most a fifth (at least 10°) wider than its label, for the first time. */
export function letsGo(coverageDeg: number): number {
  const limit = coverageDeg + Math.max(10, coverageDeg / 5)
  let waves = 0.3
  while (widthDeg(waves, coverageDeg) > limit) waves *= 1.02
  return crossing((w) => Math.min(1e3, widthDeg(w, coverageDeg)) - limit, waves / 1.02, waves, 20)
}
const at = {
  40: once(() => letsGo(40)),
  60: once(() => letsGo(60)),
  90: once(() => letsGo(90)),
  120: once(() => letsGo(120)),
}

/** The narrowest beam of a 90° horn: lines as the page's curve has them, 24 an octave. */
const waist = once(() => {
  let best = { waves: 0, deg: Number.POSITIVE_INFINITY }
  for (let waves = 0.5; waves < 12; waves *= 2 ** (1 / 24)) {
    const deg = widthDeg(waves, 90)
    if (deg < best.deg) best = { waves, deg }
  }
  return best
})
const top = { widthM: 0.26, heightM: 0.17 }
const hornWay = rig.cabinets
  .flatMap(({ ways }) => ways)
  .find(({ drivers }) => drivers.some(({ kind }) => kind === 'horn'))
if (!hornWay?.highPass) throw new Error('the rig has no horn with a crossover')
const crossoverHz = hornWay.highPass.frequencyHz

/** The band in which a beam is narrower than its label by more than a fifth, and the widest beam above it: 48 lines an octave to 16 kHz. */
const bandOf = (mouthM: number, coverageDeg: number) =>
  once(() => {
    const degAt = (hz: number) => widthDeg((mouthM * hz) / c, coverageDeg)
    const limit = 0.8 * coverageDeg
    const at = Array.from({ length: 241 }, (_, step) => 16_000 * 2 ** (step / 48 - 5)).map((hz) => ({
      hz,
      deg: degAt(hz),
    }))
    const narrow = at.flatMap(({ deg }, step) => (deg < limit ? [step] : []))
    const [first, last] = [narrow[0], narrow.at(-1)]
    if (!first || !last) throw new Error('no narrow band')
    /** Where the beam is as wide as the limit between a line and the next. */
    const edge = (step: number) =>
      crossing((hz) => Math.min(1e3, degAt(hz)) - limit, at[step]?.hz ?? Number.NaN, at[step + 1]?.hz ?? Number.NaN, 16)
    return {
      fromHz: edge(first - 1),
      toHz: edge(last),
      narrowest: at.reduce((best, one) => (one.deg < best.deg ? one : best)),
      widest: at.slice(last + 1).reduce((best, one) => (one.deg > best.deg ? one : best)),
    }
  })
const [across, upright] = [bandOf(top.widthM, 90), bandOf(top.heightM, 60)]
const edgeRoute = (value: () => number, sizeHz: number) =>
  route(value, 0.01 * sizeHz, 'a straight line between lines 3 % apart on the page, halved here: a third of a step')
const turnRoute = (value: () => number) =>
  route(value, 1, 'lines of 1/24 octave on the page and of 1/48 here, near a turn; the page prints whole degrees')
const turnHzRoute = (value: () => number, sizeHz: number) =>
  route(value, 0.03 * sizeHz, 'lines of 1/24 octave on the page and of 1/48 here: 3 %')

/** 10⁶ inch degrees hertz at 343.2 m/s. */
const ruleHz = (mouthM: number, deg: number) => 25400 / (mouthM * deg)
const depth = (mouthM: number, deg: number) => mouthM / 2 / Math.tan((deg * degree) / 2)

/** Full −6 dB angle of a uniform line of so many wavelengths: sin u/u = 1/2 at u = 1.8954942670. */
const halfU = 1.895494267033981
const lineConstant = (deg: number) => (halfU / Math.PI / Math.sin((deg * degree) / 2)) * deg * c

const strips = 'the plain sum over strips is within 0.1 % of the integral, and halving ends far below that'
const close = (value: () => number, size: number) => route(value, 0.003 * size, strips)
const beside = (mouthM: number, hz: number) =>
  route(() => -mouthDb((mouthM * hz) / c, 90, Math.PI / 2), 0.02, `${strips}; ${printedSpeed}`)

export const hornRoutes: Routes = {
  'mouth-width': plain(top.widthM),
  'mouth-height': plain(top.heightM),
  'lets-go': close(() => (at[90]() * c) / top.widthM, 1000),
  rule: close(() => ruleHz(top.widthM, 90), 1000),
  'rule-over-computed-40': close(() => ruleHz(1, 40) / (at[40]() * c), 1),
  'rule-over-computed-120': close(() => ruleHz(1, 120) / (at[120]() * c), 1),
  'lets-go-upright': close(() => (at[60]() * c) / top.heightM, 2000),
  'rule-upright': close(() => ruleHz(top.heightM, 60), 2000),
  'waist-angle': route(() => waist().deg, 0.3, 'lines of 1/24 octave that need not be the page’s, near a minimum'),
  'waist-frequency': route(
    () => (waist().waves * c) / top.widthM,
    0.03 * ((waist().waves * c) / top.widthM),
    'lines of 1/24 octave that need not be the page’s: 3 %',
  ),
  crossover: plain(crossoverHz),
  'crossover-angle': close(() => widthDeg((top.widthM * crossoverHz) / c, 90), 70),
  'narrow-to': edgeRoute(() => across().toHz, 2200),
  'widest-angle': turnRoute(() => across().widest.deg),
  'widest-frequency': turnHzRoute(() => across().widest.hz, 4000),
  'crossover-angle-upright': close(() => widthDeg((top.heightM * crossoverHz) / c, 60), 90),
  'narrow-from-upright': edgeRoute(() => upright().fromHz, 3300),
  'narrow-to-upright': edgeRoute(() => upright().toHz, 5400),
  'waist-angle-upright': turnRoute(() => upright().narrowest.deg),
  'waist-frequency-upright': turnHzRoute(() => upright().narrowest.hz, 3800),
  'bass-mouth': close(() => (at[90]() * c) / 60, 5),
  'bass-mouth-by-rule': close(() => ruleHz(1, 90) / 60, 5),
  'bass-mouth-narrow': close(() => (at[40]() * c) / 60, 10),
  'bass-depth': close(() => depth((at[90]() * c) / 60, 90), 3),
  'bass-depth-narrow': close(() => depth((at[40]() * c) / 60, 40), 15),
  'wavelength-bass': route(() => c / 60, 0.001, printedSpeed),
  'wavelength-1k': route(() => c / 1000, 0.0001, printedSpeed),
  'line-constant-narrow': close(() => lineConstant(1), 20000),
  'line-constant-60': close(() => lineConstant(60), 20000),
  'line-constant-90': close(() => lineConstant(90), 20000),
  'small-mouth': plain(0.2),
  'large-mouth': plain(0.9),
  'small-beside-500': beside(0.2, 500),
  'large-beside-500': beside(0.9, 500),
  'small-beside-2k': beside(0.2, 2000),
  'large-beside-2k': beside(0.9, 2000),
  'small-beside-100': beside(0.2, 100),
  'large-beside-100': beside(0.9, 100),
}
