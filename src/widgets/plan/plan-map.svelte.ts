import type { MapPart } from '../../engine/questions/plan/plan-terms.ts'
import { earHeightM } from '../../engine/scene/scene-terms.ts'
import type { Plan } from '../../state/plan-schema.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import * as say from './map.messages.ts'
import type { PlanFigure } from './plan-figure.ts'
import { type FloorMap, type FloorQuestion, floorMap } from './plan-floor-map.ts'
import { planQuestion } from './plan-question.ts'

/** The map that lies under the drawing, if the reader wants one: what it is of, and at which height. Part of the view, not of the plan. */
export class SheetMap {
  part: MapPart | 'none' = $state('none')
  heightM = $state(earHeightM)
  readonly levels: Asked<FloorQuestion, FloorMap, Plan>
  /** Whether the reader has ended the fine map, and of what. */
  #stoppedAt: FloorQuestion | undefined = $state.raw()

  constructor(sheet: PlanFigure) {
    this.levels = sheet.works(
      () => {
        const { plan } = sheet
        if (this.part === 'none' || plan.cabinets.length === 0) return undefined
        const { widthM, lengthM } = plan.ground
        return {
          ...planQuestion(plan, sheet.boxes),
          part: this.part,
          heightM: this.heightM,
          floor: { widthM, lengthM },
        }
      },
      (asking, question) => floorMap(asking, question, () => this.#stoppedAt === question),
      { what: say.what(), about: () => sheet.plan },
    )
  }

  /** The map that belongs under the drawing now. */
  get shown(): FloorMap | undefined {
    return this.part !== 'none' && this.levels.shown ? this.levels.value : undefined
  }
  get isStopped(): boolean {
    return this.#stoppedAt !== undefined && this.#stoppedAt === this.levels.question
  }
  /** Ends the fine map; the coarse one stays. */
  stop(): void {
    this.#stoppedAt = this.levels.question
  }
}
