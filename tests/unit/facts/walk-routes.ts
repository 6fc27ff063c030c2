import treble from '../../evidence/reference/treble-box-digits.json' with { type: 'json' }
import { bassDb, db, freeAt, groundLines, onGrassAt, onGroundAt, pinkDb, rig, trebleDb } from './plain-rig.ts'
import { c, plain, printedSpeed, type Routes, readOut, route } from './route.ts'

const ear = 1.6
const at = (angleDeg: number, distanceM: number) => (hz: number) => {
  const angleRad = (angleDeg * Math.PI) / 180
  return freeAt({ xM: distanceM * Math.sin(angleRad), yM: ear, zM: distanceM * Math.cos(angleRad) }, hz)
}
const depthM = Math.max(...rig.cabinets.map((cabinet) => cabinet.depthM))
const sub = rig.cabinets.find(({ name }) => name === 'sub')
if (!sub) throw new Error('the rig has no sub')
const lines = 'a third octave has 8 lines on the page and 24 here; what differs is below a tenth of a decibel'
const drop = (group: typeof bassDb, angleDeg: number, distanceM = 2, frontM = 2) =>
  route(() => group(at(0, frontM)) - group(at(angleDeg, distanceM)), 0.1, lines)
const groundM = 2.5
const onGround = (zM: number) => (hz: number) => onGroundAt({ xM: 0, yM: ear, zM }, hz)
const groundReason = 'a third octave has 24 lines on the page and 120 here; what differs is below a tenth of a decibel'
const groundDrop = (group: typeof bassDb) =>
  route(() => group(onGround(groundM), groundLines) - group(onGround(-groundM), groundLines), 0.1, groundReason)
const groundLift = (zM: number) =>
  route(() => bassDb(onGround(zM), groundLines) - bassDb(freeAlong(zM), groundLines), 0.1, groundReason)
const freeAlong = (zM: number) => (hz: number) => freeAt({ xM: 0, yM: ear, zM }, hz)
const onGrass = (zM: number) => (hz: number) => onGrassAt({ xM: 0, yM: ear, zM }, hz)
const grassReason = `${groundReason}; the page has the first term of what grass sends back, here it is whole`
const grassDrop = (group: typeof bassDb) =>
  route(() => group(onGrass(groundM), groundLines) - group(onGrass(-groundM), groundLines), 0.1, grassReason)
const middleDb = (at: (hz: number) => ReturnType<typeof freeAt>) => pinkDb(at, 200, 1600, groundLines)
const directions = { oblique: 45, beside: 90, 'rear-quarter': 135, behind: 180 }

export const walkRoutes: Routes = {
  ...Object.fromEntries(
    Object.entries(directions).flatMap(([name, angleDeg]) => [
      [`bass-drop-${name}`, drop(bassDb, angleDeg)],
      [`treble-drop-${name}`, drop(trebleDb, angleDeg)],
    ]),
  ),
  'bass-drop-behind-nearest-face': drop(bassDb, 180, 2 + depthM),
  'treble-drop-behind-nearest-face': drop(trebleDb, 180, 2 + depthM),
  'ground-at': plain(groundM),
  'ground-bass-drop-behind': groundDrop(bassDb),
  'ground-treble-drop-behind': groundDrop(trebleDb),
  'ground-bass-lift-front': groundLift(groundM),
  'ground-bass-lift-behind': groundLift(-groundM),
  'grass-bass-drop-behind': grassDrop(bassDb),
  'grass-treble-drop-behind': grassDrop(trebleDb),
  'grass-far-at': plain(10),
  'grass-middle-taken': route(() => middleDb(onGround(10)) - middleDb(onGrass(10)), 0.1, grassReason),
  'estimate-rms': readOut(
    'what every band of every demo box behind is held to',
    ...treble.bands
      .filter(({ box }) => box !== 'lesson')
      .map(({ box, driver, bandHz }) => `treble-behind-${box}-${driver}-${bandHz}`),
  ),
  'compared-at': plain(2),
  'behind-back-face': plain(2 - depthM),
  'rear-distance-nearest-face': plain(2 + depthM),
  'path-drop-nearest-face': plain(db(((2 + depthM) / 2) ** 2)),
  'bass-box-width': plain(sub.widthM),
  'bass-box-depth': plain(sub.depthM),
  'speed-of-sound': route(() => c, 0.05, printedSpeed),
  'wavelength-60': route(() => c / 60, 0.001, printedSpeed),
  'wavelength-4k': route(() => c / 4000, 0.00002, printedSpeed),
}
