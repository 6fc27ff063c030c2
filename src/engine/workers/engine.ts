import type { ExpansionTable } from '../../acoustics/index.ts'
import { limitS, readyLimitS } from './question-limits.ts'
import type { Answer, Question, TaskName } from './tasks.ts'
import { withTimeLimit } from './time-limit.ts'

/** A question that is waiting or running. `channel` groups questions of which only the newest matters. */
type Job = {
  id: number
  channel: string
  /** Jobs that were asked together share a turn; only the newest turn of a channel matters. */
  turn: number
  task: TaskName
  question: unknown
  settle: (answer: unknown) => void
  fail: (error: Error) => void
  onStandIn: ((reason: string) => void) | undefined
  tries: number
}

type Reply = { id: number; answer?: unknown; standIn?: string; error?: string; broken?: boolean }

/** A worker, the question that it works on, and the timer that ends its patience. */
type Slot = { worker: Worker; job: Job | undefined; timer: ReturnType<typeof setTimeout> | undefined }

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
  const workers: Slot[] = []
  let waiting: Job[] = []
  let nextId = 1
  let nextTurn = 1
  let withoutWorkers = typeof Worker === 'undefined'
  // One sign of life proves that workers are allowed here; until then a failure means that they are not.
  let proven = false
  const newest = new Map<string, number>()
  let unsettled = 0
  let idlers: (() => void)[] = []
  const taught = new Map<string, ExpansionTable>()
  /** What the page's own functions have yet to learn, without workers. */
  const untaught = new Map<string, ExpansionTable>()

  const startWorker = () => {
    try {
      const worker = new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' })
      const slot: Slot = { worker, job: undefined, timer: undefined }
      worker.onmessage = ({ data }: MessageEvent<Reply | { ready: true }>) => hear(slot, data)
      worker.onerror = (event) => {
        event.preventDefault()
        lose(slot)
      }
      for (const [key, table] of taught) worker.postMessage({ learn: key, table })
      // A worker that has proved itself elsewhere needs no such patience: its question's limit is enough.
      if (!proven) slot.timer = setTimeout(() => lose(slot), readyLimitS * 1000)
      workers.push(slot)
    } catch {
      withoutWorkers = true
    }
  }

  const hear = (slot: Slot, data: Reply | { ready: true }) => {
    proven = true
    if ('ready' in data) {
      if (slot.job) watch(slot, slot.job)
      return
    }
    const { job } = slot
    if (job?.id !== data.id) return
    if (data.broken) end(slot)
    else {
      clearTimeout(slot.timer)
      slot.job = undefined
    }
    finish(job, data)
    next()
  }

  /** Gives a question its time; a worker that is silent beyond it goes. */
  const watch = (slot: Slot, job: Job) => {
    clearTimeout(slot.timer)
    slot.timer = setTimeout(() => {
      end(slot)
      finish(job, { id: job.id, error: `there was no answer within ${limitS(job.task)} seconds` })
      next()
    }, limitS(job.task) * 1000)
  }

  const end = (slot: Slot) => {
    clearTimeout(slot.timer)
    slot.worker.terminate()
    workers.splice(workers.indexOf(slot), 1)
  }

  /** A worker is gone: its question goes back to the head of the queue, once. */
  const lose = (slot: Slot) => {
    end(slot)
    const lost = slot.job ? [slot.job] : []
    if (!proven) {
      withoutWorkers = true
      for (const other of [...workers]) {
        end(other)
        if (other.job) lost.push(other.job)
      }
    }
    for (const job of lost) {
      job.tries += 1
      if (job.tries < 2 || withoutWorkers) waiting.unshift(job)
      else job.fail(new Error('the calculation stopped twice'))
    }
    next()
  }

  const finish = (job: Job, { answer, standIn, error }: Reply) => {
    if (newest.get(job.channel) !== job.turn) return job.settle(undefined)
    if (error !== undefined) return job.fail(new Error(error))
    if (standIn !== undefined) job.onStandIn?.(standIn)
    job.settle(answer)
  }

  const next = () => {
    if (withoutWorkers) {
      if (waiting.length > 0) setTimeout(runInPage)
      return
    }
    while (waiting.length > 0) {
      let slot = workers.find(({ job }) => !job)
      if (!slot && workers.length < size) {
        startWorker()
        if (withoutWorkers) return next()
        slot = workers.find(({ job }) => !job)
      }
      const job = slot && waiting.shift()
      if (!slot || !job) return
      slot.job = job
      if (proven) watch(slot, job)
      slot.worker.postMessage({ id: job.id, task: job.task, question: job.question })
    }
  }

  const runInPage = async () => {
    const job = waiting.shift()
    if (!job) return
    try {
      const { answer, learn } = await withTimeLimit(import('./tasks.ts'), readyLimitS, 'Fetching a part of this page')
      for (const [key, table] of untaught) await learn(key, table)
      untaught.clear()
      const reply = answer(job.task, job.question)
      finish(job, { id: job.id, ...(await withTimeLimit(reply, limitS(job.task), 'The answer')) })
    } catch (error) {
      finish(job, { id: job.id, error: error instanceof Error ? error.message : String(error) })
    }
    next()
  }

  /** Begins a new turn on a channel: what waits there is dropped. */
  const takeTurn = (channel: string): number => {
    const turn = nextTurn++
    newest.set(channel, turn)
    const old = waiting.filter((job) => job.channel === channel)
    waiting = waiting.filter((job) => job.channel !== channel)
    for (const job of old) job.settle(undefined)
    return turn
  }

  /** Stops the workers that are busy on a channel; new ones start when they are needed. */
  const stopRunning = (channel: string) => {
    for (const slot of workers.filter(({ job }) => job?.channel === channel)) {
      end(slot)
      slot.job?.settle(undefined)
    }
  }

  const cancel = (channel: string) => {
    takeTurn(channel)
    stopRunning(channel)
    next()
  }

  const queue = (channel: string, turn: number, task: TaskName, question: unknown, { onStandIn }: AskOptions = {}) =>
    new Promise<unknown>((settle, fail) => {
      unsettled += 1
      waiting.push({ id: nextId++, channel, turn, task, question, settle, fail, onStandIn, tries: 0 })
    }).finally(() => {
      unsettled -= 1
      if (unsettled > 0) return
      for (const tell of idlers) tell()
      idlers = []
    })

  return {
    async ask<N extends TaskName>(channel: string, task: N, question: Question<N>, options?: AskOptions) {
      const answer = queue(channel, takeTurn(channel), task, question, options)
      next()
      return (await answer) as Answer<N> | undefined
    },
    async askEach<N extends TaskName>(
      channel: string,
      task: N,
      questions: Question<N>[],
      onAnswer: (answer: Answer<N>, index: number) => void,
      options?: AskOptions,
    ) {
      stopRunning(channel)
      const turn = takeTurn(channel)
      const answers = questions.map(async (question, index) => {
        const answer = await queue(channel, turn, task, question, options)
        // An answer may have been ready just when a newer turn began.
        if (answer === undefined || newest.get(channel) !== turn) return false
        onAnswer(answer as Answer<N>, index)
        return true
      })
      next()
      try {
        return (await Promise.all(answers)).every(Boolean)
      } catch (error) {
        if (newest.get(channel) === turn) cancel(channel)
        throw error
      }
    },
    teach(key, table) {
      taught.set(key, table)
      untaught.set(key, table)
      for (const { worker } of workers) worker.postMessage({ learn: key, table })
    },
    idle: () => (unsettled === 0 ? Promise.resolve() : new Promise((tell) => idlers.push(tell))),
    cancel,
    get withoutWorkers() {
      return withoutWorkers
    },
    dispose() {
      for (const slot of [...workers]) {
        end(slot)
        slot.job?.settle(undefined)
      }
      for (const job of waiting.splice(0)) job.settle(undefined)
    },
  }
}
