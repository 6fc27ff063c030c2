import type { ExpansionTable } from '../../acoustics/index.ts'
import { PageThread } from './page-thread.ts'
import { QuestionQueue } from './question-queue.ts'
import type { Answer, Question, TaskName } from './tasks.ts'
import { WorkerPool } from './worker-pool.ts'

export type AskOptions = {
  /** Called before the answer is handed on if something had to stand in for what could not be had: why, in plain words. */
  onStandIn?: (reason: string) => void
}

export type Engine = {
  /**
   * Asks one question. A newer question on the same channel replaces an older one that still waits, and makes the
   * answer of one that already runs worthless: both then resolve to undefined. Rejects with the question's own error, or
   * when no answer came within the question's time limit.
   */
  ask<N extends TaskName>(
    channel: string,
    task: N,
    question: Question<N>,
    options?: AskOptions,
  ): Promise<Answer<N> | undefined>
  /**
   * Asks many questions as one piece of work, in their order, and hands each answer on as it arrives; with two workers
   * a later one may arrive first. A newer question or piece of work on the same channel ends this one at once: what
   * waits is dropped and a worker in the middle of it is stopped, because one question may take seconds.
   *
   * @returns true when all are answered, false when it was ended before; rejects with the first error, which ends it too
   */
  askEach<N extends TaskName>(
    channel: string,
    task: N,
    questions: Question<N>[],
    onAnswer: (answer: Answer<N>, index: number) => void,
    options?: AskOptions,
  ): Promise<boolean>
  /**
   * Hands the table of a solved cabinet to every worker, also to those that start later: questions asked after this one is
   * called are answered with it. A table of the same key is replaced.
   */
  teach(key: string, table: ExpansionTable): void
  /** Resolves when nothing waits or runs: what is less urgent than every answer begins then. */
  idle(): Promise<void>
  /** Ends whatever waits or runs on a channel; its promises resolve as for a replaced question. */
  cancel(channel: string): void
  /** True when the browser gives no workers: answers then come from the page's own thread, and the page says so. */
  readonly withoutWorkers: boolean
  dispose(): void
}

/**
 * A pool of at most two workers. A worker that dies is replaced and its question asked again, once; one that is silent for
 * longer than its question may take is replaced and the question fails. Without workers the same functions run in the page.
 */
export function createEngine(size = 2): Engine {
  const queue = new QuestionQueue()
  const page = new PageThread(queue)
  const pool = new WorkerPool(size, queue, () => goOn())
  const goOn = (): void => (pool.isRefused ? page.work() : pool.work())

  const cancel = (channel: string) => {
    queue.takeTurn(channel)
    pool.stop(channel)
    goOn()
  }

  return {
    async ask<N extends TaskName>(channel: string, task: N, question: Question<N>, options?: AskOptions) {
      const turn = queue.takeTurn(channel)
      const answer = queue.add({ channel, turn, task, question, onStandIn: options?.onStandIn })
      goOn()
      return (await answer) as Answer<N> | undefined
    },
    async askEach<N extends TaskName>(
      channel: string,
      task: N,
      questions: Question<N>[],
      onAnswer: (answer: Answer<N>, index: number) => void,
      options?: AskOptions,
    ) {
      pool.stop(channel)
      const turn = queue.takeTurn(channel)
      const answers = questions.map(async (question, index) => {
        const answer = await queue.add({ channel, turn, task, question, onStandIn: options?.onStandIn })
        // An answer may have been ready just when a newer turn began.
        if (answer === undefined || !queue.isNewest(channel, turn)) return false
        onAnswer(answer as Answer<N>, index)
        return true
      })
      goOn()
      try {
        return (await Promise.all(answers)).every(Boolean)
      } catch (error) {
        if (queue.isNewest(channel, turn)) cancel(channel)
        throw error
      }
    },
    teach(key, table) {
      pool.teach(key, table)
      page.teach(key, table)
    },
    idle: () => queue.idle(),
    cancel,
    get withoutWorkers() {
      return pool.isRefused
    },
    dispose() {
      pool.stop()
      queue.clear()
    },
  }
}
