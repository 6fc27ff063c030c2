import { earHeightM } from '../../engine/scene/scene-terms.ts'
import { type Plan, type PlanCabinet, planVersion } from '../../state/plan-schema.ts'
import * as say from './plan.messages.ts'

// The plan that a reader begins with: a barn dance at Tidewater Grange, as the rest of the site has it.

const seatedEarM = 1.2
const wood = 'wood-on-studs'

const stackAt = (xM: number, group: string, ids: [string, string]): PlanCabinet[] => {
  const fed = { xM, zM: 3, yawDeg: 0, levelDb: 0, delayMs: 0, inverted: false, group }
  return [
    { id: ids[0], box: 'top-over-sub/top', baseM: 1.62, ...fed },
    { id: ids[1], box: 'top-over-sub/sub', baseM: 0, ...fed },
  ]
}

export const grangePlan = (): Plan => ({
  version: planVersion,
  name: say.grange(),
  crew: '',
  note: '',
  ground: {
    kind: 'hall',
    lengthM: 18,
    widthM: 11,
    heightM: 4.6,
    surfaces: {
      wallLeft: wood,
      wallRight: wood,
      floor: 'wood-floor-over-air',
      ceiling: wood,
      wallBehind: wood,
      wallOpposite: wood,
    },
    people: 150,
  },
  stage: { xM: 1.35, zM: 2.5, widthM: 6.3, depthM: 2.6, heightM: 0.6 },
  cabinets: [...stackAt(-2.5, say.leftStack(), ['c1', 'c2']), ...stackAt(5.05, say.rightStack(), ['c3', 'c4'])],
  places: [
    { id: 'p1', name: say.danceFloor(), xM: 1.3, zM: 9, earM: earHeightM },
    { id: 'p2', name: say.quietTable(), xM: -2.5, zM: 0.6, earM: seatedEarM },
    { id: 'p3', name: say.band(), xM: 1.3, zM: 2.2, earM: 0.6 + earHeightM },
    { id: 'p4', name: say.bar(), xM: -4.2, zM: 15.5, earM: earHeightM },
  ],
  mainPlace: 'p1',
  programmeDbA: 95,
  neighbour: {
    name: say.cottage(),
    side: 'wallBehind',
    distanceM: 40,
    wall: 'timber-wall',
    roof: 'lined-roof',
    door: 'solid-door',
    doorM2: 4,
  },
  ownBoxes: [],
})
