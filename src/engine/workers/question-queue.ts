import type { TaskName } from './tasks.ts'

/** A question that is waiting or running. `channel` groups questions of which only the newest matters. */
export type Job = {
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

/** What came of a question; `broken` if whoever answered can answer no more. */
export type Reply = { id: number; answer?: unknown; standIn?: string; error?: string; broken?: boolean }

/** The questions that wait, in their order, and the turns that say which of those asked are still of use. */
export class QuestionQueue {
  #waiting: Job[] = []
  #nextId = 1
  #nextTurn = 1
  readonly #newest = new Map<string, number>()
  #unsettled = 0
  #idlers: (() => void)[] = []

  get isEmpty(): boolean {
    return this.#waiting.length === 0
  }

  /** Begins a new turn on a channel: what waits there is dropped. */
  takeTurn(channel: string): number {
    const turn = this.#nextTurn++
    this.#newest.set(channel, turn)
    const old = this.#waiting.filter((job) => job.channel === channel)
    this.#waiting = this.#waiting.filter((job) => job.channel !== channel)
    for (const job of old) job.settle(undefined)
    return turn
  }

  isNewest(channel: string, turn: number): boolean {
    return this.#newest.get(channel) === turn
  }

  /** Puts a question at the end. */
  add(asked: Pick<Job, 'channel' | 'turn' | 'task' | 'question' | 'onStandIn'>): Promise<unknown> {
    return new Promise<unknown>((settle, fail) => {
      this.#unsettled += 1
      this.#waiting.push({ ...asked, id: this.#nextId++, settle, fail, tries: 0 })
    }).finally(() => {
      this.#unsettled -= 1
      if (this.#unsettled > 0) return
      for (const tell of this.#idlers) tell()
      this.#idlers = []
    })
  }

  /** Takes the question that is next out of the queue: the first that may be answered now. */
  shift(mayBegin: (job: Job) => boolean = () => true): Job | undefined {
    const at = this.#waiting.findIndex(mayBegin)
    return at < 0 ? undefined : this.#waiting.splice(at, 1)[0]
  }

  /** Whether a question waits that may be answered now. */
  has(mayBegin: (job: Job) => boolean): boolean {
    return this.#waiting.some(mayBegin)
  }

  /** Puts a question that was not answered back at the head. */
  putBack(job: Job): void {
    this.#waiting.unshift(job)
  }

  /** Hands on what came of a question, unless a newer turn has made it worthless. */
  finish(job: Job, { answer, standIn, error }: Reply): void {
    if (!this.isNewest(job.channel, job.turn)) job.settle(undefined)
    else if (error !== undefined) job.fail(new Error(error))
    else {
      if (standIn !== undefined) job.onStandIn?.(standIn)
      job.settle(answer)
    }
  }

  /** Resolves when nothing waits or runs. */
  idle(): Promise<void> {
    return this.#unsettled === 0 ? Promise.resolve() : new Promise((tell) => this.#idlers.push(tell))
  }

  /** Drops everything that waits. */
  clear(): void {
    for (const job of this.#waiting.splice(0)) job.settle(undefined)
  }
}
