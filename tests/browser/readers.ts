// What is kept on the device of the readers whom the tests play.
import { globSync } from 'node:fs'
import { basename } from 'node:path'

export const port = Number(process.env['PORT'] ?? 4399)
export const baseURL = `http://localhost:${port}`

/** Lessons past their guess. */
const lessons = globSync(`${import.meta.dirname}/../../content/lessons/*.mdx`).map(
  (file) => `lesson-${basename(file, '.mdx')}`,
)
const figures = [
  'steer',
  'box',
  'walk',
  'wall',
  'hall',
  'column',
  'horn',
  'box-and-wave',
  'stack',
  'plan',
  'sound',
  'solve-hall',
]

const hasOpened = (names: readonly string[]) => ({
  cookies: [],
  origins: [{ origin: baseURL, localStorage: [{ name: 'round-the-back.opened', value: JSON.stringify(names) }] }],
})

/** Has opened what each figure can be set to, and read on after each guess. */
export const hasOpenedAll = hasOpened([...figures, ...lessons])
/** Has read on after each guess, and opened nothing. */
export const hasReadOn = hasOpened(lessons)

/** Lets waves run. */
export const withMotion = { contextOptions: { reducedMotion: 'no-preference' } } as const
