// What pages compute while they are built, kept between builds: the site is built once a language, with the same numbers.
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { env } from 'node:process'
import { deserialize, serialize } from 'node:v8'

const inThisBuild = new Map<string, unknown>()

/**
 * What `compute` gives, computed once a build, and once for all builds of the same files (src/tools/kept-answers.mjs).
 *
 * @param name     of the computation; one name, one function
 * @param about    what it is computed from besides the files of the project, as plain data
 * @param compute  numbers and keys, no words: the same in every language. Data that a structured clone keeps, or a promise
 *                 of such, which comes as data from a file: to be awaited
 */
export function keptAtBuild<T>(name: string, about: unknown, compute: () => T): T {
  const key = `${name}-${createHash('sha256').update(JSON.stringify(about)).digest('hex').slice(0, 16)}`
  if (!inThisBuild.has(key)) inThisBuild.set(key, fromFile(key) ?? intoFile(key, compute()))
  return inThisBuild.get(key) as T
}

function fromFile(key: string): unknown {
  const file = env['KEPT_ANSWERS'] && join(env['KEPT_ANSWERS'], key)
  return file && existsSync(file) ? deserialize(readFileSync(file)) : undefined
}

function intoFile<T>(key: string, answer: T): T {
  if (answer instanceof Promise) return answer.then((settled) => intoFile(key, settled)) as T
  if (env['NEW_ANSWERS']) writeFileSync(join(env['NEW_ANSWERS'], key), serialize(answer))
  return answer
}
