import { type InAir, usualAir } from '../../engine/scene/air.ts'
import type { Responses } from '../../engine/scene/responses.ts'
import type { Plan, PlanKnown } from '../../state/plan-schema.ts'
import * as words from '../../words/words.messages.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { Hearable } from '../figure/hearable.svelte.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type OfferedBox, offeredBoxes, planKnown, planQuestion } from '../plan/plan-question.ts'
import type { RigChoice } from '../rig-choice/rig-choice.ts'
import { type DecideState, decideLink } from './decide-link.ts'
import { type EveningLevels, eveningLevels } from './evening-levels.ts'
import { type EveningStep, eveningIds, eveningPlans, eveningSteps } from './evening-plans.ts'
import { nextDoor } from './evening-questions.ts'

/** The levels of a step, of the one before it and of the usual plan. */
export type EveningAnswer = { now: EveningLevels; before: EveningLevels; usual: EveningLevels }
type EveningQuestion = InAir & { step: EveningStep }

/** The step before; the first has itself. */
export const stepBefore = (step: EveningStep): EveningStep =>
  eveningSteps[Math.max(0, eveningSteps.indexOf(step) - 1)] ?? 'usual'

/** An evening decided in steps: which one is looked at, what it gives, and what it sounds like. */
export class DecideEvening extends LiveFigure<DecideState> {
  readonly plans = eveningPlans()
  readonly boxes: OfferedBox[]
  readonly known: PlanKnown
  readonly answer: Asked<EveningQuestion, EveningAnswer>
  readonly sound: Hearable<object, Responses>

  protected override get atHand() {
    return ['step', 'at', 'signal', 'level'] as const
  }

  /** @param built  the levels of all steps in the usual air, worked out when the page was built */
  constructor(rigs: RigChoice[], base: DecideState, built: Record<EveningStep, EveningLevels>) {
    super(decideLink, base)
    this.boxes = offeredBoxes($state.snapshot(rigs) as RigChoice[])
    this.known = planKnown(this.boxes)
    const inUsualAir = $state.snapshot(built) as Record<EveningStep, EveningLevels>
    const taken = async (step: EveningStep, of: (each: EveningStep) => Promise<EveningLevels | undefined>) => {
      const [now, before, usual] = [await of(step), await of(stepBefore(step)), await of('usual')]
      return now && before && usual && { now, before, usual }
    }
    this.answer = this.works<EveningQuestion, EveningAnswer>(
      () => ({ step: this.state.step }),
      ({ ask }, { step, ...inAir }) =>
        taken(step, async (each) => {
          if (JSON.stringify(inAir.air) === JSON.stringify(usualAir)) return inUsualAir[each]
          const plan = this.plans[each]
          const answer = await ask('planAnswer', { ...planQuestion(plan, this.boxes), ...inAir }, each)
          const outside = answer && (await ask('planNeighbour', { ...nextDoor(plan, this.boxes), ...inAir }, each))
          return outside && eveningLevels(answer, outside)
        }),
      {
        what: words.answer(),
        keep: eveningSteps.length,
        first: { now: inUsualAir[base.step], before: inUsualAir[stepBefore(base.step)], usual: inUsualAir.usual },
      },
    )
    this.sound = this.hears(
      'planResponses',
      () => {
        const front = planQuestion(this.plans.usual, this.boxes)
        return { rigs: front.rigs, here: planQuestion(this.plan, this.boxes), front, placeId: this.placeId }
      },
      { restS: 0.5 },
    )
  }

  get plan(): Plan {
    return this.plans[this.state.step]
  }
  get placeId(): string {
    return eveningIds[this.state.at]
  }
  next: EveningStep | undefined = $derived.by(() => eveningSteps[eveningSteps.indexOf(this.state.step) + 1])
}
