import reference from '../../evidence/reference/equal-loudness.json' with { type: 'json' }
import { aWeightedDb, crossing, freeAt, heardAt } from './plain-rig.ts'
import { once, plain, type Routes, route } from './route.ts'

/** A contour's level, by Formula (1) of ISO 226:2023 with the parameters of its Table 1. */
function contourDb(phon: number, hz: number): number {
  const row = reference.table.find(({ frequencyHz }) => frequencyHz === hz)
  if (!row) throw new Error(`ISO 226 has no ${hz} Hz`)
  const { alpha, transferDb, thresholdDb } = row
  const af =
    4e-10 ** (0.3 - alpha) * (10 ** (0.03 * phon) - 10 ** 0.072) + 10 ** ((alpha * (thresholdDb + transferDb)) / 10)
  return (10 / alpha) * Math.log10(af) - transferDb
}
/** Phons of a level, by halving on the contours; sones double every 10 phon. */
const phonOf = (levelDb: number, hz: number) => crossing((phon) => contourDb(phon, hz) - levelDb, 5, 95)
const partLeft = (hz: number) => 2 ** ((phonOf(contourDb(60, hz) - 10, hz) - 60) / 10)
const formula = 'the same formula written a second time; halving ends far below that'

const place = (zM: number) => (hz: number) => freeAt({ xM: 0, yM: 1.6, zM }, hz)
const [front, behind] = [once(() => heardAt(place(2.5))), once(() => heardAt(place(-2.5)))]
/** In front with all third octaves to 250 Hz turned down by 10 dB. */
const cut = once(() =>
  heardAt((hz) => {
    const { re, im } = place(2.5)(hz)
    const part = hz < 10 ** 2.45 ? Math.sqrt(0.1) : 1
    return { re: part * re, im: part * im }
  }),
)
const lines =
  'a third octave has 8 lines on the page and 24 here, and the poles of the weighting are printed to 0.1 Hz: some hundredths of a decibel'

export const earRoutes: Routes = {
  'cut-bass-from': route(() => front().bassSones, 0.05, lines),
  'cut-bass-to': route(() => cut().bassSones, 0.05, lines),
  'cut-bass-left': route(
    () => cut().bassSones / front().bassSones,
    0.005,
    'half of some ten sones; each of the two is within 0.05 sone, in the same direction',
  ),
  'low-level': route(() => contourDb(60, 50), 0.01, formula),
  'high-level': route(() => contourDb(60, 1000), 0.01, formula),
  'low-part-left': route(() => partLeft(50), 0.001, formula),
  'high-part-left': route(() => partLeft(1000), 0.001, formula),
  'contour-step-50': route(() => contourDb(60, 50) - contourDb(40, 50), 0.01, formula),
  'compared-at': plain(2.5),
  'share-behind': route(() => 100 * behind().share, 0.3, lines),
  'share-front': route(() => 100 * front().share, 0.3, lines),
  'bass-sones-behind': route(() => behind().bassSones, 0.05, lines),
  'bass-sones-front': route(() => front().bassSones, 0.05, lines),
  'sones-behind': route(() => behind().sones, 0.2, lines),
  'sones-front': route(() => front().sones, 0.3, lines),
  'a-weighted-drop': route(() => aWeightedDb(place(2.5)) - aWeightedDb(place(-2.5)), 0.1, lines),
}
