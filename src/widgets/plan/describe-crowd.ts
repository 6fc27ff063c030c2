import { crowdClearsDeg } from '../../acoustics/field/crowd.ts'
import type { PlanAnswer } from '../../engine/questions/plan/plan-terms.ts'
import { cabinetNumber } from '../../state/plan-faults.ts'
import type { Plan } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { lengthText } from '../../words/lengths.ts'
import { shortText } from '../../words/numbers.ts'
import * as say from './crowd.messages.ts'
import { toldPlaces } from './describe-plan.ts'

/** Less than this is nothing to speak of, dB. */
const heardDb = 0.5

/** What a crowd takes where, one sentence for each place that loses something. */
export function crowdWords(answer: PlanAnswer, plan: Plan, units: LengthUnit): string[] {
  const taken = toldPlaces(answer, plan).flatMap(({ name, crowd }) =>
    crowd && crowd.lossDb >= heardDb
      ? [
          say.takes({
            place: name,
            number: cabinetNumber(plan, crowd.box),
            under: crowd.elevationDeg < 0,
            angle: shortText(crowd.elevationDeg, 0),
            decibels: Math.round(crowd.lossDb),
            raise: lengthText(crowd.raiseM, units),
          }),
        ]
      : [],
  )
  return taken.length > 0 ? taken : [say.takesNothing({ angle: crowdClearsDeg })]
}
