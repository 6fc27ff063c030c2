import { beforeEach, expect, test, vi } from 'vitest'
import { pageSound, type Sounding } from '../../../../src/widgets/player/page-sound.svelte.ts'

/** Keys that reach the window. */
let onKey: (event: { key: string; defaultPrevented: boolean; preventDefault(): void }) => void = () => {}
let isOpen = false

vi.stubGlobal('window', {
  addEventListener: (_: string, listener: typeof onKey) => {
    onKey = listener
  },
})
vi.stubGlobal('document', { querySelector: () => (isOpen ? {} : null) })

/** Something that notes what is asked of it, in the order of the whole page. */
const told: string[] = []
const sounding = (name: string, cuts = true): Sounding => ({
  figure: undefined,
  part: name,
  stop: () => told.push(`${name} stops`),
  ...(cuts && { cut: () => told.push(`${name} is cut`) }),
  peak: () => 0,
})
const pressEscape = (defaultPrevented = false) => {
  const preventDefault = vi.fn()
  onKey({ key: 'Escape', defaultPrevented, preventDefault })
  return preventDefault
}

beforeEach(() => {
  pageSound.stop()
  told.length = 0
  isOpen = false
})

test('whatever takes the page silences what sounded before, and only that', () => {
  const [a, b, c] = [sounding('A'), sounding('B', false), sounding('C')]
  pageSound.take(a)
  pageSound.take(a)
  expect(told).toEqual([])
  pageSound.take(b)
  expect(told).toEqual(['A is cut'])
  pageSound.take(c)
  expect(told).toEqual(['A is cut', 'B stops'])
  expect(pageSound.now).toBe(c)
})

test('what is over gives the page back, unless another has it already', () => {
  const [a, b] = [sounding('A'), sounding('B')]
  pageSound.take(a)
  pageSound.take(b)
  pageSound.release(a)
  expect(pageSound.now).toBe(b)
  pageSound.release(b)
  expect(pageSound.now).toBeUndefined()
  expect(told).toEqual(['A is cut'])
})

test('Esc stops what sounds; a key that something else has used, or that closes what is open, does not', () => {
  pageSound.take(sounding('A'))
  expect(pressEscape(true)).not.toHaveBeenCalled()
  isOpen = true
  pressEscape()
  expect(told).toEqual([])
  isOpen = false
  expect(pressEscape()).toHaveBeenCalled()
  expect(told).toEqual(['A stops'])
  // Silent, it leaves the key to others.
  expect(pressEscape()).not.toHaveBeenCalled()
})

test('the bar is fetched once, shown while something sounds, and fetched again if it did not come', async () => {
  let comes = false
  const fetchBar = vi.fn(() => (comes ? Promise.resolve() : Promise.reject(new Error('gone'))))
  pageSound.fetchBar = fetchBar
  pageSound.take(sounding('A'))
  await vi.waitFor(() => expect(fetchBar).toHaveBeenCalledTimes(1))
  await Promise.resolve()
  expect(pageSound.barShown).toBe(false)
  comes = true
  pageSound.take(sounding('B'))
  await vi.waitFor(() => expect(pageSound.barShown).toBe(true))
  pageSound.take(sounding('C'))
  expect(fetchBar).toHaveBeenCalledTimes(2)
})
