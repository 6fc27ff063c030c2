// What is kept on the device of the readers whom the tests play.
import { globSync } from 'node:fs'
import { basename } from 'node:path'

export const port = Number(process.env['PORT'] ?? 4399)
export const baseURL = `http://localhost:${port}`

/** What a device keeps: names and texts of localStorage. */
export type Kept = Readonly<Record<string, string>>

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

const hasOpened = (names: readonly string[]): Kept => ({ 'round-the-back.opened': JSON.stringify(names) })

/** Has opened what each figure can be set to, and read on after each guess. */
export const hasOpenedAll = hasOpened([...figures, ...lessons])
/** Has read on after each guess, and opened nothing. */
export const hasReadOn = hasOpened(lessons)
/** Has never been here. */
export const nothing: Kept = {}

/** Lets waves run. */
export const withMotion = { contextOptions: { reducedMotion: 'no-preference' } } as const
