import { type LessonHallKey, lessonHall } from '../../engine/questions/plan/lesson-halls.ts'
import type { PlanGoal } from '../../engine/questions/plan/plan-goals.ts'
import * as edits from '../../state/plan-edits.ts'
import { type Plan, planVersion } from '../../state/plan-schema.ts'
import * as say from './solve-hall.messages.ts'

// The halls of lesson 10 as plans, with their words.

/** What a hall, its places and its neighbour are called. */
const named: Record<LessonHallKey, { hall: string; places: Record<string, string>; neighbour: string; story: string }> =
  {
    barn: {
      hall: say.barn(),
      places: { p1: say.floor(), p2: say.supperTable(), p3: say.farEnd() },
      neighbour: '',
      story: say.barnStory(),
    },
    vault: {
      hall: say.vault(),
      places: { p1: say.floor(), p2: say.band(), p3: say.bar() },
      neighbour: say.lane(),
      story: say.vaultStory(),
    },
    marquee: {
      hall: say.marquee(),
      places: { p1: say.floor(), p2: say.teaTent(), p3: say.hedge(), p4: say.floorEdge() },
      neighbour: '',
      story: say.marqueeStory(),
    },
  }

export const hallName = (key: LessonHallKey): string => named[key].hall
export const hallStory = (key: LessonHallKey): string => named[key].story

/** Why a goal has the limit that it has. */
const reasons: Record<LessonHallKey, Record<string, string>> = {
  barn: { table: say.whyThreeDb(), far: say.whyThreeDb(), floor: say.whyFloorBass() },
  vault: { neighbour: say.whyLicence(), band: say.whyBand(), bar: say.whyBar(), floor: say.whyFloorBass() },
  marquee: { hedge: say.whyLicence(), tent: say.whySixDb(), edge: say.whyThreeDb(), floor: say.whyOpenAirBass() },
}

/** Why a goal is what it is. */
export const whyWords = (key: LessonHallKey, { id }: PlanGoal): string => reasons[key][id] ?? ''

/** A hall as it begins. Places have their names, boxes play alike. */
export function lessonPlan(key: LessonHallKey): Plan {
  const { ground, stage, cabinets, places, mainPlace, programmeDbA, neighbour } = lessonHall(key)
  const { hall, places: names, neighbour: neighbourName } = named[key]
  return {
    version: planVersion,
    name: hall,
    crew: '',
    note: '',
    ground,
    stage,
    cabinets: cabinets.map((box) => ({ ...box, yawDeg: 0, levelDb: 0, delayMs: 0, inverted: false, group: '' })),
    places: places.map((place) => ({ ...place, name: names[place.id] ?? place.id })),
    mainPlace,
    programmeDbA,
    neighbour: neighbour && { name: neighbourName, ...neighbour },
    ownBoxes: [],
  }
}

/** One way that meets all goals: the hall's own boxes, set and placed otherwise. */
export function solvedPlan(key: LessonHallKey): Plan {
  const { cabinets, places } = lessonHall(key).solution
  const moved = Object.entries(cabinets).reduce(
    (plan, [id, change]) => edits.changeCabinet(plan, id, change),
    lessonPlan(key),
  )
  return Object.entries(places).reduce((plan, [id, change]) => edits.changePlace(plan, id, change), moved)
}
