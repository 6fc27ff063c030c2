import type { Page, Route } from '@playwright/test'

// Faults from outside: what a figure does while its workers are slow or silent, and when a file, a piece of code or the
// device's storage does not come. Nothing of the site knows of it.

/** What the page's workers are doing, kept by the wrapped Worker of `watchWorkers`. */
type WorkerWatch = {
  /** How much later an answer is delivered, ms; Infinity: never. */
  delayMs: number
  /** Names of the questions whose answers are delivered late or never; undefined: all. */
  only: string[] | undefined
  /** Questions sent to a worker whose answer has not been delivered. */
  open: Set<string>
  /** Answers that wait until the workers are let go. */
  held: Set<() => void>
}

declare global {
  interface Window {
    workerWatch: WorkerWatch
  }
}

/** Puts a Worker in the page's place that counts what is asked and answered, and holds answers back. */
function wrapWorkers(): void {
  const watch: WorkerWatch = { delayMs: 0, only: undefined, open: new Set(), held: new Set() }
  window.workerWatch = watch
  let workers = 0
  window.Worker = class extends Worker {
    readonly #name = `worker ${++workers}`
    readonly #tasks = new Map<unknown, string>()
    readonly #held = new Set<() => void>()

    constructor(address: string | URL, options?: WorkerOptions) {
      super(address, options)
      const passed = new WeakSet<Event>()
      // First of all listeners: what it stops, the engine does not hear.
      this.addEventListener('message', (event) => {
        const task = this.#tasks.get(event.data?.id)
        if (passed.has(event) || task === undefined) return
        event.stopImmediatePropagation()
        const deliver = () => {
          if (!this.#held.delete(deliver)) return
          watch.held.delete(deliver)
          this.#tasks.delete(event.data.id)
          watch.open.delete(`${this.#name}: ${event.data.id}`)
          const late = new MessageEvent('message', { data: event.data })
          passed.add(late)
          this.dispatchEvent(late)
        }
        this.#held.add(deliver)
        const delayMs = !watch.only || watch.only.includes(task) ? watch.delayMs : 0
        if (delayMs === 0) return deliver()
        watch.held.add(deliver)
        if (Number.isFinite(delayMs)) setTimeout(deliver, delayMs)
      })
    }

    override postMessage(message: unknown, options?: StructuredSerializeOptions | Transferable[]): void {
      const { id, task } = message as { id?: number; task?: string }
      if (id !== undefined) {
        this.#tasks.set(id, task ?? '')
        watch.open.add(`${this.#name}: ${id}`)
      }
      super.postMessage(message, options as StructuredSerializeOptions)
    }

    override terminate(): void {
      for (const id of this.#tasks.keys()) watch.open.delete(`${this.#name}: ${id}`)
      for (const deliver of this.#held) watch.held.delete(deliver)
      this.#held.clear()
      super.terminate()
    }
  }
}

/**
 * Watches the workers of the pages that open from now on. To be called before `goto`, once a page; the functions below that
 * slow or silence workers do it by themselves.
 */
export async function watchWorkers(page: Page): Promise<void> {
  await page.addInitScript(wrapWorkers)
}

/** Waits until every question that the page has sent to a worker is answered. Needs `watchWorkers` before the page opened. */
export async function workersRest(page: Page): Promise<void> {
  await page.waitForFunction(() => window.workerWatch.open.size === 0)
}

/**
 * Delivers every answer of a worker so much later, ms, on the pages that open from now on. A page that is open already is
 * slowed by `setWorkerDelay`.
 *
 * @param only  names of the questions that are slowed; without it all are
 */
export async function slowWorkers(page: Page, delayMs: number, only?: string[]): Promise<void> {
  await watchWorkers(page)
  // Infinity does not survive the way into the page.
  await page.addInitScript(
    ({ delay, names }) => {
      window.workerWatch.delayMs = delay ?? Number.POSITIVE_INFINITY
      window.workerWatch.only = names
    },
    { delay: Number.isFinite(delayMs) ? delayMs : null, names: only },
  )
}

/** Workers that compute and never say what: on the pages that open from now on no answer arrives. */
export const silenceWorkers = (page: Page, only?: string[]): Promise<void> =>
  slowWorkers(page, Number.POSITIVE_INFINITY, only)

/** Changes the delay of the open page, ms; Infinity silences its workers. What is held back stays so. */
export async function setWorkerDelay(page: Page, delayMs: number, only?: string[]): Promise<void> {
  await page.evaluate(
    ({ delay, names }) => {
      window.workerWatch.delayMs = delay ?? Number.POSITIVE_INFINITY
      window.workerWatch.only = names
    },
    { delay: Number.isFinite(delayMs) ? delayMs : null, names: only },
  )
}

/** Delivers at once what is held back, and what comes from now on. */
export async function letWorkersGo(page: Page): Promise<void> {
  await setWorkerDelay(page, 0)
  await page.evaluate(() => {
    for (const deliver of window.workerWatch.held) deliver()
  })
}

/** How many answers are held back on the open page. */
export const heldAnswers = (page: Page): Promise<number> => page.evaluate(() => window.workerWatch.held.size)

/** What can be cut off: each is asked for by its own kind of request. */
const cuts = {
  /** The workers' own script. */
  'worker script': (address: URL) => /\/engine\.worker[^/]*\.js$/.test(address.pathname),
  /** What a worker loads only when it is first asked: see `cutOff`. */
  'worker chunk': (address: URL) => address.pathname.endsWith('.js'),
  /** The demo rigs' solved cabinets. */
  'solved gear': (address: URL) => address.pathname.endsWith('.bin'),
} as const

/**
 * Lets every request of a kind fail, as it does without a network, from now on.
 *
 * @param what  one of the kinds above, or an address pattern: /Walk.*\.js$/ for the code of a figure, for instance
 * @returns  the addresses that were refused so far, and a function that mends it: later requests go through
 */
export async function cutOff(
  page: Page,
  what: keyof typeof cuts | RegExp,
): Promise<{ refused: string[]; mend: () => Promise<void> }> {
  const refused: string[] = []
  const refuse = async (route: Route) => {
    const request = route.request()
    // A chunk is a script that a worker's script asks for; the page's own are left alone.
    const ofWorker = /\/engine\.worker[^/]*\.js$/.test((await request.allHeaders())['referer'] ?? '')
    if (what === 'worker chunk' && !ofWorker) return route.fallback()
    refused.push(request.url())
    return route.abort('failed')
  }
  const matches = what instanceof RegExp ? what : cuts[what]
  await page.context().route(matches, refuse)
  return { refused, mend: () => page.context().unroute(matches, refuse) }
}

/** The device's database is asked and never answers, on the pages that open from now on. */
export async function deafStorage(page: Page): Promise<void> {
  await page.addInitScript(() => {
    // A request that nothing is ever told of: neither success nor error nor blocked.
    IDBFactory.prototype.open = () => new EventTarget() as IDBOpenDBRequest
  })
}
