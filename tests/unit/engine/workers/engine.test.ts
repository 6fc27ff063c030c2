import { afterEach, describe, expect, test, vi } from 'vitest'
import { walkAnswer } from '../../../../src/engine/questions/walk/walk.ts'
import { createEngine } from '../../../../src/engine/workers/engine.ts'
import { limitS, readyLimitS } from '../../../../src/engine/workers/question-limits.ts'

const rig = {
  name: 'ball',
  cabinets: [
    {
      name: 'ball',
      widthM: 0.3,
      heightM: 0.4,
      depthM: 0.3,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [
        {
          name: 'cone',
          drivers: [{ kind: 'piston' as const, radiusM: 0.1, xM: 0, yM: 0 }],
          highPass: { alignment: 'butterworth' as const, order: 2, frequencyHz: 50 },
        },
      ],
    },
  ],
}
const question = (distanceM: number) => ({ rig, place: { angleRad: 2, distanceM }, datum: 'front-face' as const })

type Message = { id: number; task: string; question: ReturnType<typeof question> }

/** A worker that answers when it is told to. */
class FakeWorker {
  static all: FakeWorker[] = []
  onmessage: ((event: { data: unknown }) => void) | undefined
  onerror: ((event: { preventDefault(): void }) => void) | undefined
  inbox: Message[] = []
  ended = false
  constructor() {
    FakeWorker.all.push(this)
  }
  postMessage(message: Message) {
    this.inbox.push(message)
  }
  terminate() {
    this.ended = true
  }
  answer() {
    const message = this.inbox.shift() as Message
    this.onmessage?.({ data: { id: message.id, answer: walkAnswer(message.question) } })
  }
  reply(answer: unknown) {
    const message = this.inbox.shift() as Message
    this.onmessage?.({ data: { id: message.id, answer } })
  }
  say(data: object) {
    this.onmessage?.({ data })
  }
  die() {
    this.onerror?.({ preventDefault() {} })
  }
}
const worker = (index: number) => FakeWorker.all[index] as FakeWorker

afterEach(() => {
  FakeWorker.all = []
  vi.unstubAllGlobals()
})

describe('without workers', () => {
  test('the same functions answer in the page, and the engine says so', async () => {
    const engine = createEngine()
    expect(engine.withoutWorkers).toBe(true)
    expect(await engine.ask('answer', 'walkAnswer', question(2))).toEqual(walkAnswer(question(2)))
  })

  test('only the newest question of a channel is answered', async () => {
    const engine = createEngine()
    const [old, newest] = await Promise.all([
      engine.ask('answer', 'walkAnswer', question(2)),
      engine.ask('answer', 'walkAnswer', question(3)),
    ])
    expect(old).toBeUndefined()
    expect(newest?.distanceM).toBe(3)
  })

  test('it is idle when everything that was asked is answered, dropped or failed', async () => {
    const engine = createEngine()
    await engine.idle()
    const told: string[] = []
    const tell = (what: string) => () => void told.push(what)
    const asked = [
      engine.ask('answer', 'walkAnswer', question(2)).then(tell('dropped')),
      engine.ask('answer', 'walkAnswer', question(3)).then(tell('answered')),
      engine.ask('other', 'walkAnswer', question(Number.NaN)).catch(tell('failed')),
    ]
    const idle = engine.idle().then(tell('idle'))
    await Promise.all([idle, ...asked])
    expect(told.slice(0, 2)).toEqual(['dropped', 'answered'])
    expect(told.slice(2).sort()).toEqual(['failed', 'idle'])
    await engine.idle()
  })

  test('an error comes back as an error', async () => {
    const engine = createEngine()
    await expect(engine.ask('answer', 'walkAnswer', question(-1))).rejects.toThrow(/place.distanceM is -1/)
  })

  test('the answers to many questions come one by one, in their order', async () => {
    const engine = createEngine()
    const heard: [number, number][] = []
    const all = await engine.askEach('solve', 'walkAnswer', [1, 2, 3].map(question), ({ distanceM }, index) =>
      heard.push([index, distanceM]),
    )
    expect(all).toBe(true)
    expect(heard).toEqual([
      [0, 1],
      [1, 2],
      [2, 3],
    ])
  })

  test('many questions end at the first error, and the channel is free again', async () => {
    const engine = createEngine()
    const heard: number[] = []
    const asked = engine.askEach('solve', 'walkAnswer', [1, -1, 3].map(question), (_, index) => heard.push(index))
    await expect(asked).rejects.toThrow(/place.distanceM is -1/)
    expect((await engine.ask('solve', 'walkAnswer', question(2)))?.distanceM).toBe(2)
    expect(heard).toEqual([0])
  })

  test('cancel ends what waits', async () => {
    const engine = createEngine()
    const heard: number[] = []
    const asked = engine.askEach('solve', 'walkAnswer', [1, 2].map(question), (_, index) => heard.push(index))
    engine.cancel('solve')
    expect(await asked).toBe(false)
    expect(heard).toEqual([])
  })

  test('a browser that forbids workers ends up there too', async () => {
    vi.stubGlobal(
      'Worker',
      class {
        constructor() {
          throw new DOMException('blocked', 'SecurityError')
        }
      },
    )
    const engine = createEngine()
    expect((await engine.ask('answer', 'walkAnswer', question(2)))?.distanceM).toBe(2)
    expect(engine.withoutWorkers).toBe(true)
  })
})

/** A table of four silent lines: enough to be known, quick to pass on. */
const table = (order: number) => ({
  speedOfSoundMps: 343,
  densityKgM3: 1.2,
  centreZM: 0,
  radiusM: 1,
  lines: [100, 200, 300, 400].map((frequencyHz) => ({ frequencyHz, order, re: [0], im: [0] })),
})

describe('what the engine is taught', () => {
  test('reaches every worker, also one that starts later, and the newest of a key alone', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const first = engine.ask('a', 'walkAnswer', question(1))
    worker(0).answer()
    await first
    engine.teach('box', table(1))
    engine.teach('box', table(2))
    expect(worker(0).inbox).toEqual([
      { learn: 'box', table: table(1) },
      { learn: 'box', table: table(2) },
    ])
    worker(0).inbox = []
    engine.ask('a', 'walkAnswer', question(1))
    engine.ask('b', 'walkAnswer', question(2))
    expect(worker(1).inbox[0]).toEqual({ learn: 'box', table: table(2) })
    expect(worker(1).inbox[1]?.task).toBe('walkAnswer')
  })

  test('is known to the page’s own functions without workers', async () => {
    const { solvedToHz, cabinetKey } = await import('../../../../src/engine/scene/solved-gear.ts')
    const box = { widthM: 0.31, heightM: 0.4, depthM: 0.3, drivers: [] }
    const engine = createEngine()
    engine.teach(cabinetKey(box), table(1))
    await engine.ask('a', 'walkAnswer', question(1))
    expect(solvedToHz(box)).toBe(400)
  })
})

describe('what is silent or missing', () => {
  test('a worker that never says it is there is given up, and the page answers', async () => {
    vi.useFakeTimers()
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const answer = engine.ask('a', 'walkAnswer', question(1))
    await vi.advanceTimersByTimeAsync(readyLimitS * 1000)
    await vi.advanceTimersByTimeAsync(1)
    vi.useRealTimers()
    expect((await answer)?.distanceM).toBe(1)
    expect(engine.withoutWorkers).toBe(true)
  })

  test('a worker that is silent over its question is replaced, and the question fails in plain words', async () => {
    vi.useFakeTimers()
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const silent = engine.ask('a', 'walkAnswer', question(1))
    worker(0).say({ ready: true })
    const told = expect(silent).rejects.toThrow('there was no answer within 60 seconds')
    await vi.advanceTimersByTimeAsync(limitS('walkAnswer') * 1000)
    await told
    vi.useRealTimers()
    expect(worker(0).ended).toBe(true)
    const again = engine.ask('a', 'walkAnswer', question(2))
    worker(1).answer()
    expect((await again)?.distanceM).toBe(2)
    expect(engine.withoutWorkers).toBe(false)
  })

  test('a question whose code could not be fetched fails, and the next one gets a fresh worker', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const failed = engine.ask('a', 'walkAnswer', question(1))
    const { id } = worker(0).inbox.shift() as Message
    worker(0).say({ id, error: 'a part of this page could not be fetched', broken: true })
    await expect(failed).rejects.toThrow('could not be fetched')
    expect(worker(0).ended).toBe(true)
    const again = engine.ask('a', 'walkAnswer', question(2))
    worker(1).answer()
    expect((await again)?.distanceM).toBe(2)
  })

  test('an answer in which something stood in says so', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const reasons: string[] = []
    const answer = engine.ask('a', 'walkAnswer', question(1), { onStandIn: (reason) => reasons.push(reason) })
    const message = worker(0).inbox.shift() as Message
    worker(0).say({ id: message.id, answer: walkAnswer(message.question), standIn: 'no file' })
    expect((await answer)?.distanceM).toBe(1)
    expect(reasons).toEqual(['no file'])
  })
})

describe('with workers', () => {
  test('questions of different channels run side by side, at most two', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const answers = ['a', 'b', 'c'].map((channel, index) => engine.ask(channel, 'walkAnswer', question(index + 1)))
    expect(FakeWorker.all).toHaveLength(2)
    worker(0).answer()
    worker(1).answer()
    worker(0).answer()
    expect((await Promise.all(answers)).map((answer) => answer?.distanceM)).toEqual([1, 2, 3])
  })

  test('a question that runs while a newer one arrives resolves to nothing', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const old = engine.ask('answer', 'walkAnswer', question(1))
    const newest = engine.ask('answer', 'walkAnswer', question(2))
    worker(0).answer()
    worker(1).answer()
    expect(await old).toBeUndefined()
    expect((await newest)?.distanceM).toBe(2)
  })

  test('a worker that dies is replaced and its question asked again', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const first = engine.ask('a', 'walkAnswer', question(1))
    worker(0).answer()
    await first
    const second = engine.ask('a', 'walkAnswer', question(2))
    worker(0).die()
    expect(worker(0).ended).toBe(true)
    expect(FakeWorker.all).toHaveLength(2)
    worker(1).answer()
    expect((await second)?.distanceM).toBe(2)
    expect(engine.withoutWorkers).toBe(false)
  })

  test('workers that never answer at all are given up, and the page answers', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const answer = engine.ask('a', 'walkAnswer', question(1))
    worker(0).die()
    expect((await answer)?.distanceM).toBe(1)
    expect(engine.withoutWorkers).toBe(true)
  })

  test('a question whose worker dies twice is reported', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const first = engine.ask('a', 'walkAnswer', question(1))
    worker(0).answer()
    await first
    const doomed = engine.ask('b', 'walkAnswer', question(2))
    worker(0).die()
    worker(1).die()
    await expect(doomed).rejects.toThrow('stopped twice')
    const next = engine.ask('b', 'walkAnswer', question(3))
    worker(2).answer()
    expect((await next)?.distanceM).toBe(3)
  })

  test('many questions report each answer as it is there, whichever comes first', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const heard: number[] = []
    const all = engine.askEach('solve', 'walkAnswer', [1, 2, 3].map(question), (_, index) => heard.push(index))
    worker(1).answer()
    await vi.waitFor(() => expect(heard).toEqual([1]))
    worker(0).answer()
    await vi.waitFor(() => expect(heard).toEqual([1, 0]))
    worker(1).answer()
    expect(await all).toBe(true)
    expect(heard).toEqual([1, 0, 2])
  })

  test('a newer piece of work stops the workers of the older one at once and leaves other channels alone', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const other = engine.ask('other', 'walkAnswer', question(4))
    const heard: string[] = []
    const old = engine.askEach('solve', 'walkAnswer', [1, 2].map(question), () => heard.push('old'))
    const fresh = engine.askEach('solve', 'walkAnswer', [3].map(question), () => heard.push('new'))
    expect(await old).toBe(false)
    expect(worker(1).ended).toBe(true)
    expect(worker(0).ended).toBe(false)
    worker(2).answer()
    expect(await fresh).toBe(true)
    worker(0).answer()
    expect((await other)?.distanceM).toBe(4)
    expect(heard).toEqual(['new'])
    expect(engine.withoutWorkers).toBe(false)
  })

  test('cancel stops a running worker, and the next question starts a fresh one', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const heard: number[] = []
    const asked = engine.askEach('solve', 'walkAnswer', [1, 2].map(question), (_, index) => heard.push(index))
    worker(0).answer()
    await vi.waitFor(() => expect(heard).toEqual([0]))
    engine.cancel('solve')
    expect(await asked).toBe(false)
    expect(worker(0).ended).toBe(true)
    const next = engine.ask('solve', 'walkAnswer', question(3))
    worker(1).answer()
    expect((await next)?.distanceM).toBe(3)
  })

  test('a worker that dies in the middle of many questions is replaced, and the work goes on', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine(1)
    const heard: number[] = []
    const all = engine.askEach('solve', 'walkAnswer', [1, 2].map(question), (_, index) => heard.push(index))
    worker(0).answer()
    worker(0).die()
    worker(1).answer()
    expect(await all).toBe(true)
    expect(heard).toEqual([0, 1])
  })
})

describe('a question whose worker keeps much', () => {
  test('waits for the worker that works on an older one of its channel; another channel does not', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const first = engine.ask('plan', 'planLevels', {} as never)
    const second = engine.ask('plan', 'planLevels', {} as never)
    expect(FakeWorker.all).toHaveLength(1)
    expect(worker(0).inbox).toHaveLength(1)
    const other = engine.ask('else', 'walkAnswer', question(2))
    expect(FakeWorker.all).toHaveLength(2)
    worker(0).reply('old')
    expect(await first).toBeUndefined()
    // The other worker is idle again, but the question goes where the first one went.
    worker(1).answer()
    expect((await other)?.distanceM).toBe(2)
    expect(worker(0).inbox).toHaveLength(1)
    worker(0).reply('new')
    expect(await second).toBe('new')
    engine.dispose()
  })

  test('goes back to that worker when both are idle', async () => {
    vi.stubGlobal('Worker', FakeWorker)
    const engine = createEngine()
    const busy = engine.ask('else', 'walkAnswer', question(2))
    const first = engine.ask('plan', 'planLevels', {} as never)
    worker(1).reply('first')
    worker(0).answer()
    await Promise.all([busy, first])
    const again = engine.ask('plan', 'planLevels', {} as never)
    expect(worker(1).inbox).toHaveLength(1)
    worker(1).reply('again')
    expect(await again).toBe('again')
    engine.dispose()
  })
})
