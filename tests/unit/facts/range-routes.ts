import type { Rig } from '../../../src/acoustics/index.ts'
import { loadSolvedRig } from '../../../src/engine/scene/solved-gear.ts'
import { demoRigNames, rigOf } from '../../demo-gear.ts'
import boxes from '../../evidence/reference/page-boxes.json' with { type: 'json' }
import { lineOf, trebleDb } from './plain-rig.ts'
import { once, plain, type Routes, route } from './route.ts'

/** Every demo rig, its solved cabinets at hand. */
export const demoRigs: Rig[] = demoRigNames().map(rigOf)
for (const rig of demoRigs) await loadSolvedRig(rig)

/** The bass by another program, which solves the boxes as well; so many rigs as it has, so many there must be. */
const solvedElsewhere = Object.values(boxes.rigs)
const bass = solvedElsewhere.map(({ value }) => value.free2M)
const scatterDb = Math.max(...solvedElsewhere.map(({ scatter }) => scatter.free2M))
const bassRoute = (value: () => number) =>
  route(
    value,
    0.1 + scatterDb,
    `digits of another program; 0.1 dB is left of our mesh, ${scatterDb} dB is between two meshes of that program`,
  )
const power = (value: () => number) =>
  route(value, 2.3, 'the same digits: 0.13 dB is 3 % of a power, which is three quarters of the front’s at most')

const treble = once(() =>
  demoRigs.map((rig) => {
    const at = (zM: number) => (hz: number) => lineOf(rig, hz)({ xM: 0, yM: 1.6, zM })
    return trebleDb(at(2)) - trebleDb(at(-2))
  }),
)
const lines = 'a third octave has 8 lines on the page and 24 here; what differs is below a tenth of a decibel'

export const rangeRoutes: Routes = {
  rigs: plain(solvedElsewhere.length),
  'bass-least': bassRoute(() => Math.min(...bass)),
  'bass-most': bassRoute(() => Math.max(...bass)),
  'treble-least': route(() => Math.min(...treble()), 0.1, lines),
  'treble-most': route(() => Math.max(...treble()), 0.1, lines),
  'bass-power-least': power(() => 100 * 10 ** (-Math.max(...bass) / 10)),
  'bass-power-most': power(() => 100 * 10 ** (-Math.min(...bass) / 10)),
}
