import type { ExpansionTable } from '../../acoustics/index.ts'
import { keepsMuch, limitS, readyLimitS } from './question-limits.ts'
import type { Job, QuestionQueue, Reply } from './question-queue.ts'
import * as say from './workers.messages.ts'

/** A worker, the question that it works on, the channels that it answered last, and the timer that ends its patience. */
type Slot = {
  worker: Worker
  job: Job | undefined
  home: Set<string>
  timer: ReturnType<typeof setTimeout> | undefined
}

/** Workers that take the questions of a queue, and are replaced when they die or are silent for too long. */
export class WorkerPool {
  readonly #size: number
  readonly #queue: QuestionQueue
  readonly #goOn: () => void
  readonly #slots: Slot[] = []
  readonly #taught = new Map<string, ExpansionTable>()
  // One sign of life proves that workers are allowed here; until then a failure means that they are not.
  #proven = false
  #refused = typeof Worker === 'undefined'

  /** @param goOn  called when a worker is free or there are to be none: the next question is to be taken */
  constructor(size: number, queue: QuestionQueue, goOn: () => void) {
    this.#size = size
    this.#queue = queue
    this.#goOn = goOn
  }

  /** True when the browser gives no workers. */
  get isRefused(): boolean {
    return this.#refused
  }

  /** Gives questions to workers as long as there are both. */
  work(): void {
    const mayBegin = (job: Job) => !this.#isAwaited(job)
    while (this.#queue.has(mayBegin)) {
      const free = this.#freeSlot()
      if (this.#refused) {
        this.#goOn()
        return
      }
      const job = free && this.#queue.shift(mayBegin)
      if (!free || !job) return
      const slot = this.#slots.find((each) => !each.job && each.home.has(job.channel)) ?? free
      for (const { home } of this.#slots) home.delete(job.channel)
      slot.home.add(job.channel)
      slot.job = job
      if (this.#proven) this.#watch(slot, job)
      slot.worker.postMessage({ id: job.id, task: job.task, question: job.question })
    }
  }

  /** Stops the workers that are busy on a channel, without one all; new ones start when they are needed. */
  stop(channel?: string): void {
    for (const slot of this.#slots.filter(({ job }) => channel === undefined || job?.channel === channel)) {
      this.#end(slot)
      slot.job?.settle(undefined)
    }
  }

  teach(key: string, table: ExpansionTable): void {
    this.#taught.set(key, table)
    for (const { worker } of this.#slots) worker.postMessage({ learn: key, table })
  }

  /** Whether a question waits for the worker that has kept what it needs, and that still works on an older one of its channel. */
  #isAwaited({ channel, task, turn }: Job): boolean {
    return (
      keepsMuch.has(task) &&
      this.#slots.some(({ job, home }) => home.has(channel) && job?.channel === channel && job.turn < turn)
    )
  }

  #freeSlot(): Slot | undefined {
    const free = this.#slots.find(({ job }) => !job)
    return free || this.#slots.length >= this.#size ? free : this.#start()
  }

  #start(): Slot | undefined {
    try {
      const worker = new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' })
      const slot: Slot = { worker, job: undefined, home: new Set(), timer: undefined }
      worker.onmessage = ({ data }: MessageEvent<Reply | { ready: true }>) => this.#hear(slot, data)
      worker.onerror = (event) => {
        event.preventDefault()
        this.#lose(slot)
      }
      for (const [key, table] of this.#taught) worker.postMessage({ learn: key, table })
      // A worker that has proved itself elsewhere needs no such patience: its question's limit is enough.
      if (!this.#proven) slot.timer = setTimeout(() => this.#lose(slot), readyLimitS * 1000)
      this.#slots.push(slot)
      return slot
    } catch {
      this.#refused = true
      return undefined
    }
  }

  #hear(slot: Slot, data: Reply | { ready: true }): void {
    this.#proven = true
    if ('ready' in data) {
      if (slot.job) this.#watch(slot, slot.job)
      return
    }
    const { job } = slot
    if (job?.id !== data.id) return
    if (data.broken) this.#end(slot)
    else {
      clearTimeout(slot.timer)
      slot.job = undefined
    }
    this.#queue.finish(job, data)
    this.#goOn()
  }

  /** Gives a question its time; a worker that is silent beyond it goes. */
  #watch(slot: Slot, job: Job): void {
    clearTimeout(slot.timer)
    slot.timer = setTimeout(() => {
      this.#end(slot)
      this.#queue.finish(job, { id: job.id, error: say.noAnswer({ limitS: limitS(job.task) }) })
      this.#goOn()
    }, limitS(job.task) * 1000)
  }

  #end(slot: Slot): void {
    clearTimeout(slot.timer)
    slot.worker.terminate()
    this.#slots.splice(this.#slots.indexOf(slot), 1)
  }

  /** A worker is gone: its question goes back to the head of the queue, once. */
  #lose(slot: Slot): void {
    this.#end(slot)
    const lost = slot.job ? [slot.job] : []
    if (!this.#proven) {
      this.#refused = true
      for (const other of [...this.#slots]) {
        this.#end(other)
        if (other.job) lost.push(other.job)
      }
    }
    for (const job of lost) {
      job.tries += 1
      if (job.tries < 2 || this.#refused) this.#queue.putBack(job)
      else job.fail(new Error(say.stoppedTwice()))
    }
    this.#goOn()
  }
}
