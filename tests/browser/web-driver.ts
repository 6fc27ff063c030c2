// A small client of the W3C WebDriver protocol, for WebKitGTK: its driver takes one session, on a screen of its own (xvfb-run).
import { type ChildProcess, spawn } from 'node:child_process'

/** How long is waited for a state that is to come, and how often it is looked at, ms. */
const [patienceMs, pauseMs] = [90_000, 100]

export type WebDriverPage = {
  goto(address: string): Promise<void>
  address(): Promise<string>
  /** Runs a function of the page's own in the page. */
  evaluate<A extends unknown[], T>(body: (...args: A) => T, ...args: A): Promise<Awaited<T>>
  /** Waits until the function gives something true, and gives that. Throws Error with what it gave last. */
  until<A extends unknown[], T>(body: (...args: A) => T, ...args: A): Promise<Awaited<T>>
  /** Presses at the middle of what a selector finds, goes by so many px in small steps, and lets go, as a hand with a mouse does. */
  drag(selector: string, byPx: { x: number; y: number }): Promise<void>
  /** A true click, which a browser takes for a reader's own. */
  click(selector: string): Promise<void>
  setSize(width: number, height: number): Promise<void>
  close(): Promise<void>
}

/**
 * Starts the driver and a browser.
 *
 * @param driver   path of WebKitWebDriver
 * @param browser  path of MiniBrowser
 * @param port     for the driver
 * @param env      what the browser's environment has besides
 */
export async function openWebKit(options: {
  driver: string
  browser: string
  port: number
  env?: Record<string, string>
}): Promise<WebDriverPage> {
  const { driver, browser, port, env = {} } = options
  const screen = ['--auto-servernum', '--server-args=-screen 0 1400x1000x24']
  const program = spawn('xvfb-run', [...screen, driver, `--port=${port}`, '--host=127.0.0.1'], {
    // A group of its own, which is ended whole: the screen, the driver and the browser.
    detached: true,
    stdio: 'ignore',
    env: { ...process.env, ...env },
  })
  const origin = `http://127.0.0.1:${port}`
  const ask = async (method: 'GET' | 'POST' | 'DELETE', path: string, body?: object): Promise<unknown> => {
    const response = await fetch(origin + path, { method, ...(body && { body: JSON.stringify(body) }) })
    const { value } = (await response.json()) as { value: unknown }
    if (!response.ok) throw new Error(`${method} ${path}: ${JSON.stringify(value)}`)
    return value
  }
  try {
    await waitFor(() => ask('GET', '/status').catch(() => undefined), 'the driver of WebKit')
    const { sessionId } = (await ask('POST', '/session', {
      capabilities: {
        alwaysMatch: {
          timeouts: { script: patienceMs, pageLoad: patienceMs },
          'webkitgtk:browserOptions': { binary: browser, args: ['--automation'] },
        },
      },
    })) as { sessionId: string }
    return pageOf((method, path, body) => ask(method, `/session/${sessionId}${path}`, body), program)
  } catch (error) {
    end(program)
    throw error
  }
}

function pageOf(
  ask: (method: 'GET' | 'POST' | 'DELETE', path: string, body?: object) => Promise<unknown>,
  program: ChildProcess,
): WebDriverPage {
  const run = (body: (...args: never[]) => unknown, args: unknown[]) =>
    ask('POST', '/execute/async', {
      // What a promise rejects with is thrown here, not lost.
      script: `const done = arguments[arguments.length - 1], args = [...arguments].slice(0, -1)
        Promise.resolve().then(() => (${body})(...args)).then((value) => done({ value }), (error) => done({ thrown: String(error) }))`,
      args,
    }).then((told) => {
      const { value, thrown } = told as { value?: unknown; thrown?: string }
      if (thrown !== undefined) throw new Error(thrown)
      return value
    })
  /** The mouse comes down at the middle of an element, goes to places relative to it, px, and lets go. */
  const press = async (selector: string, way: readonly (readonly [x: number, y: number])[]) => {
    const toMiddle = (of: string) =>
      document.querySelector(of)?.scrollIntoView({ block: 'center', behavior: 'instant' })
    await run(toMiddle, [selector])
    const origin = await ask('POST', '/element', { using: 'css selector', value: selector })
    const move = ([x, y]: readonly [number, number]) => ({
      ...{ type: 'pointerMove', duration: 0, origin },
      x: Math.round(x),
      y: Math.round(y),
    })
    const down = { type: 'pointerDown', button: 0 }
    const actions = [move([0, 0]), down, ...way.map(move), { type: 'pointerUp', button: 0 }]
    const parameters = { pointerType: 'mouse' }
    await ask('POST', '/actions', { actions: [{ type: 'pointer', id: 'mouse', parameters, actions }] })
  }
  return {
    goto: async (url) => void (await ask('POST', '/url', { url })),
    address: async () => (await ask('GET', '/url')) as string,
    evaluate: (body, ...args) => run(body, args) as never,
    // A page that is being left has nothing to say for a moment.
    until: (body, ...args) => waitFor(() => run(body, args).catch(() => undefined), String(body)) as never,
    drag: (selector, { x, y }) =>
      press(
        selector,
        [0.25, 0.5, 0.75, 1].map((part) => [x * part, y * part] as const),
      ),
    click: (selector) => press(selector, []),
    setSize: async (width, height) => void (await ask('POST', '/window/rect', { width, height })),
    close: async () => {
      await ask('DELETE', '').catch(() => undefined)
      end(program)
    },
  }
}

/** Asks again until the answer is true. */
async function waitFor<T>(ask: () => Promise<T>, what: string): Promise<NonNullable<T>> {
  const untilMs = Date.now() + patienceMs
  for (;;) {
    const answer = await ask()
    if (answer) return answer
    if (Date.now() > untilMs) throw new Error(`not within ${patienceMs / 1000} s: ${what}`)
    await new Promise((resolve) => setTimeout(resolve, pauseMs))
  }
}

/** Ends a program and all that it started. */
function end({ pid }: ChildProcess): void {
  if (pid === undefined) return
  try {
    process.kill(-pid)
  } catch {
    // It has gone already.
  }
}
