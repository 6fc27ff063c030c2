import type { PlanAnswer, PlanQuestion } from '../../engine/questions/plan/plan-terms.ts'
import type { Plan } from '../../state/plan-schema.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import type { LiveFigure } from '../figure/live-figure.svelte.ts'
import type { PlanLinkState } from './plan-link.ts'
import type { OfferedBox } from './plan-question.ts'

/** What the parts of the sheet that ask for themselves need of it. */
export type PlanFigure = Pick<LiveFigure<PlanLinkState>, 'works'> & {
  readonly plan: Plan
  readonly boxes: OfferedBox[]
  readonly answer: Asked<PlanQuestion, PlanAnswer, Plan>
}
