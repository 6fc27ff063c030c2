import { readFileSync } from 'node:fs'
import type { Rig, RigCabinet } from '../../../../../src/acoustics/index.ts'
import type { PlanQuestion, StandingCabinet } from '../../../../../src/engine/questions/plan/plan-terms.ts'
import { demoHallStates } from '../../../../../src/engine/scene/hall-content.ts'
import { loadSolvedRig } from '../../../../../src/engine/scene/solved-gear.ts'

const read = (name: string) => {
  const { cabinets } = JSON.parse(readFileSync(`content/gear/${name}.json`, 'utf8')) as Rig
  return { name, cabinets }
}
export const topOverSub: Rig = read('top-over-sub')
export const loadGear = () => loadSolvedRig(topOverSub)

export const boxOf = ({ frontCentre: _, yawRad: __, ...box }: RigCabinet) => box
export const standing = (id: string, box: 'top' | 'sub', change: Partial<StandingCabinet> = {}): StandingCabinet => ({
  id,
  box: `top-over-sub/${box}`,
  xM: -2.5,
  zM: 3,
  baseM: box === 'top' ? 1.62 : 0,
  yawRad: 0,
  levelDb: 0,
  delayS: 0,
  polarity: 1,
  ...change,
})

/** The demo rig where it stands in the demo hall, packed, and two places. */
export const grangeQuestion: PlanQuestion = {
  rigs: [topOverSub],
  boxes: Object.fromEntries(topOverSub.cabinets.map((box) => [`top-over-sub/${box.name}`, boxOf(box)])),
  surroundings: { kind: 'hall', design: (demoHallStates[1] as (typeof demoHallStates)[0]).design },
  cabinets: [standing('c1', 'top'), standing('c2', 'sub')],
  places: [
    { id: 'p1', xM: 0, zM: 8, earM: 1.6 },
    { id: 'p2', xM: -2.5, zM: 0.5, earM: 1.6 },
  ],
  mainPlace: 'p1',
  programmeDbA: 95,
}
