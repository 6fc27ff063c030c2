import type { ExpansionTable } from '../../acoustics/index.ts'
import { limitS, readyLimitS } from './question-limits.ts'
import type { QuestionQueue } from './question-queue.ts'
import { withTimeLimit } from './time-limit.ts'
import * as say from './workers.messages.ts'

/** Answers the questions of a queue in the page itself, one by one, with the functions that the workers run. */
export class PageThread {
  readonly #queue: QuestionQueue
  /** What the functions have yet to learn. */
  readonly #untaught = new Map<string, ExpansionTable>()

  constructor(queue: QuestionQueue) {
    this.#queue = queue
  }

  work(): void {
    if (!this.#queue.isEmpty) setTimeout(() => this.#answerNext())
  }

  teach(key: string, table: ExpansionTable): void {
    this.#untaught.set(key, table)
  }

  async #answerNext(): Promise<void> {
    const job = this.#queue.shift()
    if (!job) return
    try {
      const { answer, learn } = await withTimeLimit(import('./tasks.ts'), readyLimitS, say.fetching())
      for (const [key, table] of this.#untaught) await learn(key, table)
      this.#untaught.clear()
      const reply = answer(job.task, job.question)
      this.#queue.finish(job, { id: job.id, ...(await withTimeLimit(reply, limitS(job.task), say.answering())) })
    } catch (error) {
      this.#queue.finish(job, { id: job.id, error: error instanceof Error ? error.message : String(error) })
    }
    this.work()
  }
}
