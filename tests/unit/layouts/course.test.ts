import { globSync, readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { expect, test } from 'vitest'
import { courseOf, placeIn } from '../../../src/layouts/course.ts'

const lesson = (id: string, order: number, extra?: boolean) => ({ id, data: { order, minutes: 10, extra } })
const some = [lesson('c', 3), lesson('a', 1), lesson('more', 2, true), lesson('b', 2)]
const course = courseOf(some)
const ids = (lessons: readonly ({ id: string } | undefined)[]) => lessons.map((one) => one?.id)

/** The lessons as they are, from their front matter. */
const written = globSync('content/lessons/*.mdx').map((file) => {
  const text = readFileSync(file, 'utf8')
  const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(text)?.[1]
  const data = { order: Number(field('order')), minutes: Number(field('minutes')), extra: field('extra') === 'true' }
  return { id: basename(file, '.mdx'), data, text }
})

test('the course goes by the order in the front matter, whatever the order of the files', () => {
  expect(ids(course.lessons)).toEqual(['a', 'b', 'c'])
  expect(ids(course.extras)).toEqual(['more'])
})

test('extras are not in the minutes of the course', () => {
  expect(course.minutes).toBe(30)
})

test('each lesson knows its neighbours and what is offered after it', () => {
  const at = (id: string) => {
    const { number, previous, next, extras } = placeIn(course, some.find((one) => one.id === id) ?? lesson('', 0))
    return [number, previous?.id, next?.id, ids(extras)]
  }
  expect(at('a')).toEqual([1, undefined, 'b', []])
  expect(at('b')).toEqual([2, 'a', 'c', ['more']])
  expect(at('c')).toEqual([3, 'b', undefined, []])
  // An extra leads back to the lesson that it goes on from, and on to the one after that.
  expect(at('more')).toEqual([undefined, 'b', 'c', []])
})

test('the lessons are numbered from 1 without a gap, so that "lesson 6" in a sentence is the sixth', () => {
  const { lessons } = courseOf(written)
  expect(lessons.map(({ data }) => data.order)).toEqual(lessons.map((_, index) => index + 1))
})

test('whoever follows "next" from the first lesson passes every lesson once; every extra is offered by one of them', () => {
  const real = courseOf(written)
  const passed: string[] = []
  const offered: string[] = []
  for (let at = real.lessons[0]; at && passed.length <= written.length; at = placeIn(real, at).next) {
    passed.push(at.id)
    offered.push(...placeIn(real, at).extras.map(({ id }) => id))
  }
  expect([...passed, ...offered].sort()).toEqual(written.map(({ id }) => id).sort())
})

test('a lesson of the main line has its short answer right after the guess, before anything is seen', () => {
  for (const { id, data, text } of written.filter((one) => !one.data.extra)) {
    const [guess, answer, see] = ['## Guess', '<Answer />', '## See'].map((part) => text.indexOf(part))
    expect(guess, id).toBeGreaterThan(0)
    expect(answer, id).toBeGreaterThan(guess ?? 0)
    expect(see, id).toBeGreaterThan(answer ?? 0)
    expect(text.slice(guess, answer), `${id}, ${data.order}`).toMatch(/<Guess\w+Figure/)
  }
})

test('the minutes of a lesson are such as its words and its figures take', () => {
  for (const { id, data, text } of written) {
    const mainLine = text.slice(text.indexOf('---', 3)).replaceAll(/<Deeper>[\s\S]*?<\/Deeper>|^import.*$/gm, '')
    const words = mainLine.replaceAll(/<[^>]*>/g, ' ').match(/[\p{L}\p{N}’']+/gu)?.length ?? 0
    const figures = mainLine.match(/<\w+Figure/g)?.length ?? 0
    // 130 to 230 words and one to three minutes a figure, tried once (common practice, no source).
    expect(data.minutes, id).toBeGreaterThanOrEqual(Math.floor(words / 230 + figures))
    expect(data.minutes, id).toBeLessThanOrEqual(Math.ceil(words / 130 + 3 * figures))
  }
})
