import type { CompareAnswer, CompareQuestion } from '../../engine/questions/compare/compare-terms.ts'
import { behindId, frontId } from '../../state/plan-microphones.ts'
import type { Asked } from '../figure/asked.svelte.ts'
import * as say from './measured.messages.ts'
import type { PlanFigure } from './plan-figure.ts'

/** What two microphones measured, held against the plan: asked while both stand in it. */
export class SheetMeasured {
  /** Of the test that is kept; taken from the device by the part that shows it. */
  question: CompareQuestion | undefined = $state.raw()
  readonly answer: Asked<CompareQuestion, CompareAnswer>
  readonly #sheet: PlanFigure

  constructor(sheet: PlanFigure) {
    this.#sheet = sheet
    this.answer = sheet.works(
      () => (this.arePlaced ? this.question : undefined),
      ({ ask }, question) => ask('compareAnswer', question),
      { what: say.what() },
    )
  }

  /** Whether both microphones stand in the plan. */
  get arePlaced(): boolean {
    return [frontId, behindId].every((id) => this.#sheet.plan.places.some((place) => place.id === id))
  }

  /** What the plan predicts, rear less front by third octave, dB; undefined until both microphones have an answer. */
  get predictedDb(): number[] | undefined {
    const { places } = this.#sheet.answer.value
    const [front, behind] = [frontId, behindId].map((id) => places.find((place) => place.id === id))
    return front && behind?.levelsDb.map((levelDb, band) => levelDb - (front.levelsDb[band] as number))
  }
}
