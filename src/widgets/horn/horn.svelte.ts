import type { HornAnswer, HornQuestion } from '../../engine/questions/horn/horn.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { type HornState, hornLink, questionOf } from './horn-link.ts'

/** The state of one horn figure, and what the engine has answered for it so far. */
export class Horn extends LiveFigure<HornState> {
  /** The newest answer, and the question that it answers: the drawing keeps to these. */
  answer = $state.raw({} as HornAnswer)
  answered = $state.raw({} as HornQuestion)

  constructor(base: HornState, initial: HornAnswer) {
    super(hornLink, base)
    this.answer = initial
    this.answered = questionOf(base)
  }

  /** Asks for everything that the figure shows; the newest question wins. */
  async ask(question: HornQuestion): Promise<void> {
    await this.attempt('horn', async (engine) => {
      const answer = await engine.ask('horn', 'hornAnswer', question)
      if (!answer) return
      this.answer = answer
      this.answered = question
    })
  }

  /** Asks for the impulse responses that the sound is made with. */
  async askResponses(mouthM: number, coverageDeg: number, sampleRateHz: number) {
    return this.engine?.ask('horn responses', 'hornResponses', { mouthM, coverageDeg, sampleRateHz, length: 8192 })
  }
}
