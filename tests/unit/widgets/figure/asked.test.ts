import { flushSync } from 'svelte'
import { afterEach, expect, test, vi } from 'vitest'
import { Asked, type AskedOptions, type AskedPlace, type Asking } from '../../../../src/widgets/figure/asked.svelte.ts'
import { reactive, whenever } from './reactive.svelte.ts'

type Place = { placeM: number }
type Work = { question: Place; answer: (text: string) => void; fail: (reason: string) => void }

const ends: (() => void)[] = []
afterEach(() => {
  for (const end of ends.splice(0)) end()
})

/** A question about a place that a figure moves, and the works that it has begun, in their order. */
function figure<C = undefined>(options: Partial<AskedOptions<string, C>> = {}, more: Partial<AskedPlace> = {}) {
  const state = reactive<Place | undefined>({ placeM: 1 })
  const revision = reactive(0)
  const works: (Work & { asking: Asking<string>; standIn: (reason: string) => void })[] = []
  let standIn = (_reason: string) => {}
  const cancelled: string[] = []
  const place: AskedPlace = {
    asking: (_asked, note) => {
      standIn = note
      return { ask: async () => undefined, askEach: async () => false }
    },
    cancel: (_asked, what) => cancelled.push(what),
    revision: () => revision.value,
    rested: () => {},
    ...more,
  }
  const asked = new Asked<Place, string, C>(
    place,
    () => state.value && { placeM: state.value.placeM },
    (asking, question) =>
      new Promise((answer, fail) =>
        works.push({ question, answer, fail: (reason) => fail(new Error(reason)), asking, standIn }),
      ),
    { what: 'level', ...options },
  )
  ends.push(whenever(() => asked.follow()))
  flushSync()
  const move = (placeM: number) => {
    state.value = { placeM }
    flushSync()
  }
  /** What a reader would see. */
  const told = () => ({ value: asked.value, question: asked.question, open: asked.open })
  return { asked, state, revision, works, cancelled, move, told }
}

/** Lets what has been answered arrive. */
const arrive = async () => {
  await new Promise((done) => setTimeout(done))
  flushSync()
}

test('the first answer belongs to the first question and is not asked for again', () => {
  const { told, works } = figure({ first: 'at 1 m' })
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: false })
  expect(works).toEqual([])
})

test('without a first answer the first question is asked at once, and a failure of it leaves nothing that stays', async () => {
  const { asked, told, works } = figure()
  expect(told()).toEqual({ value: undefined, question: undefined, open: true })
  works[0]?.fail('no answer')
  await arrive()
  expect([asked.problem, asked.shown]).toEqual(['no answer', false])
  asked.again()
  flushSync()
  works[1]?.answer('at 1 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: false })
})

test('while a newer question is open the old pair stays, and is open from the change on', async () => {
  let units = 'm'
  const { asked, state, works, move, told } = figure({ first: 'at 1 m', about: () => units })
  units = 'ft'
  state.value = { placeM: 2 }
  // Not only once effects have run.
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: true })
  move(2)
  expect(works.map(({ question }) => question)).toEqual([{ placeM: 2 }])
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: true })
  expect(asked.about).toBe('m')
  works[0]?.answer('at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 2 m', question: { placeM: 2 }, open: false })
  expect(asked.about).toBe('ft')
})

test('a pair does not follow the figure: its question is that of the time of asking', async () => {
  const { asked, state, works, move } = figure({ first: 'at 1 m' })
  move(2)
  if (state.value) state.value.placeM = 3
  works[0]?.answer('at 2 m')
  await arrive()
  expect(asked.question).toEqual({ placeM: 1 })
  works[1]?.answer('at 3 m')
  await arrive()
  expect(asked.question).toEqual({ placeM: 3 })
})

test('the newest question wins, in whatever order the answers come', async () => {
  const { works, move, told } = figure({ first: 'at 1 m' })
  move(2)
  move(3)
  works[1]?.answer('at 3 m')
  await arrive()
  works[0]?.answer('at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 3 m', question: { placeM: 3 }, open: false })
})

test('back at the question that is answered nothing is asked, and what was on its way is dropped', async () => {
  const { works, move, told } = figure({ first: 'at 1 m' })
  move(2)
  move(1)
  expect(told().open).toBe(false)
  works[0]?.answer('at 2 m')
  await arrive()
  expect(works).toHaveLength(1)
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: false })
})

test('what the answer hangs on beside the question asks anew too', async () => {
  const { revision, works, told } = figure({ first: 'at 1 m' })
  revision.value = 1
  flushSync()
  expect(told().open).toBe(true)
  works[0]?.answer('at 1 m, solved')
  await arrive()
  expect(told()).toEqual({ value: 'at 1 m, solved', question: { placeM: 1 }, open: false })
})

test('a failure keeps the last pair, looks old and says why; the same can be asked again', async () => {
  const { asked, works, move, told } = figure({ first: 'at 1 m' })
  move(2)
  works[0]?.fail('no answer')
  await arrive()
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: true })
  expect([asked.problem, asked.shown]).toEqual(['no answer', true])
  expect(asked.working).toBe(false)
  asked.again()
  flushSync()
  expect(works.map(({ question }) => question)).toEqual([{ placeM: 2 }, { placeM: 2 }])
  works[1]?.answer('at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 2 m', question: { placeM: 2 }, open: false })
  expect(asked.problem).toBe('')
})

test('a failure of a question that has been left is not told', async () => {
  const { asked, works, move } = figure({ first: 'at 1 m' })
  move(2)
  move(3)
  works[0]?.fail('late')
  await arrive()
  expect(asked.problem).toBe('')
  works[1]?.fail('no answer')
  await arrive()
  expect(asked.problem).toBe('no answer')
  move(1)
  expect(asked.problem).toBe('')
})

test('a stand-in is told with its answer, and gone with the next that needs none', async () => {
  const { asked, works, move } = figure({ first: 'at 1 m', keep: 3 })
  move(2)
  works[0]?.standIn('not found')
  expect(asked.standIn).toBe('')
  works[0]?.answer('a ball at 2 m')
  await arrive()
  expect([asked.value, asked.standIn]).toEqual(['a ball at 2 m', 'not found'])
  move(3)
  works[1]?.answer('at 3 m')
  await arrive()
  expect(asked.standIn).toBe('')
  // A stand-in is never kept.
  move(2)
  expect(works).toHaveLength(3)
})

test('kept answers come back at once, the first one too; the oldest goes when there is no more room', async () => {
  const { works, move, told } = figure({ first: 'at 1 m', keep: 2 })
  move(2)
  works[0]?.answer('at 2 m')
  await arrive()
  move(1)
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: false })
  move(3)
  works[1]?.answer('at 3 m')
  await arrive()
  move(2)
  expect(told()).toEqual({ value: 'at 2 m', question: { placeM: 2 }, open: false })
  expect(works).toHaveLength(2)
  move(1)
  expect(works).toHaveLength(3)
})

test('a question that waits for a press is asked by it alone, and is stale once the figure has moved on', async () => {
  const { asked, works, cancelled, move } = figure({ when: 'pressed' })
  expect([works.length, asked.value, asked.open, asked.stale]).toEqual([0, undefined, false, false])
  asked.press()
  expect([works.length, asked.open, asked.working, asked.stale]).toEqual([1, true, true, false])
  works[0]?.answer('at 1 m')
  await arrive()
  expect([asked.value, asked.open, asked.stale]).toEqual(['at 1 m', false, false])
  move(2)
  expect([works.length, asked.value, asked.question, asked.stale]).toEqual([1, 'at 1 m', { placeM: 1 }, true])
  asked.press()
  expect([asked.value, asked.stale]).toEqual([undefined, false])
  // What is pressed for ends when the figure moves on.
  move(3)
  expect([asked.working, asked.stale, cancelled]).toEqual([false, true, ['all']])
  works[1]?.answer('at 2 m')
  await arrive()
  expect(asked.value).toBe(undefined)
  asked.press()
  works[2]?.fail('no answer')
  await arrive()
  expect(asked.problem).toBe('no answer')
  asked.again()
  works[3]?.answer('at 3 m')
  await arrive()
  expect([asked.value, asked.problem]).toEqual(['at 3 m', ''])
  asked.stop()
  expect([asked.value, asked.stale]).toEqual([undefined, false])
})

test('part of an answer is told with its own question and is not old; how far it is is told until it is whole', async () => {
  const { asked, works, move, told } = figure({ first: 'at 1 m' })
  move(2)
  works[0]?.asking.progress(0, 2)
  expect(told().open).toBe(true)
  works[0]?.asking.show('the bass at 2 m')
  works[0]?.asking.progress(1, 2)
  expect(told()).toEqual({ value: 'the bass at 2 m', question: { placeM: 2 }, open: false })
  expect([asked.working, asked.progress]).toEqual([true, { done: 1, total: 2 }])
  works[0]?.answer('all at 2 m')
  await arrive()
  expect([asked.value, asked.working, asked.progress]).toEqual(['all at 2 m', false, undefined])
})

test('part of an answer is no answer: who comes back to it has it worked out to the end', async () => {
  const { asked, works, cancelled, move, told } = figure({ first: 'at 1 m', keep: 3 })
  move(2)
  works[0]?.asking.show('the bass at 2 m')
  move(3)
  expect(cancelled).toEqual(['pieces'])
  // Work that was left shows nothing more.
  works[0]?.asking.show('more at 2 m')
  works[0]?.asking.progress(2, 2)
  expect([asked.value, asked.progress]).toEqual(['the bass at 2 m', undefined])
  move(2)
  expect(works.map(({ question }) => question.placeM)).toEqual([2, 3, 2])
  works[2]?.answer('all at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'all at 2 m', question: { placeM: 2 }, open: false })
})

test('waiting for the reader to rest ends with false when the question has changed meanwhile', async () => {
  vi.useFakeTimers()
  try {
    const { works, move } = figure({ first: 'at 1 m' })
    move(2)
    const left = works[0]?.asking.rest(0.25)
    move(3)
    const stayed = works[1]?.asking.rest(0.25)
    await vi.advanceTimersByTimeAsync(250)
    expect([await left, await stayed]).toEqual([false, true])
  } finally {
    vi.useRealTimers()
  }
})

test('while there is no question nothing is asked, and the last pair is not old', async () => {
  const { state, works, move, told } = figure({ first: 'at 1 m' })
  move(2)
  state.value = undefined
  flushSync()
  works[0]?.answer('at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 1 m', question: { placeM: 1 }, open: false })
  move(1)
  expect(works).toHaveLength(1)
})

test('a still stands for the first answer: it is asked, and until it comes nothing is old', async () => {
  const { works, move, told } = figure({ still: true })
  expect(told()).toEqual({ value: undefined, question: { placeM: 1 }, open: false })
  expect(works).toHaveLength(1)
  move(2)
  expect(told()).toEqual({ value: undefined, question: { placeM: 1 }, open: true })
  works[1]?.answer('at 2 m')
  await arrive()
  expect(told()).toEqual({ value: 'at 2 m', question: { placeM: 2 }, open: false })
})

test('on a page as it was built nothing is asked, and nothing is open', () => {
  const place = { asking: () => undefined, cancel: () => {}, revision: () => 0, rested: () => {} }
  const asked = new Asked<Place, string>(
    place,
    () => ({ placeM: 1 }),
    async () => 'at 1 m',
    { what: 'level' },
  )
  expect([asked.value, asked.open, asked.working]).toEqual([undefined, false, false])
})

test('without an engine nothing is worked on and nothing has failed', () => {
  const { asked, works } = figure({}, { asking: () => undefined })
  expect([works.length, asked.working, asked.problem]).toEqual([0, false, ''])
})
