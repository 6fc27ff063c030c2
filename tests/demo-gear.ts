import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Rig } from '../src/acoustics/index.ts'

const folder = join(import.meta.dirname, '../content/gear')

/** A demo rig as its file has it. */
export const rigOf = (name: string): Rig & { order: number } =>
  JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8'))

/** Every demo rig by the name of its file, whichever there are, in the order in which pages offer them. */
export const demoRigNames = (): string[] =>
  readdirSync(folder)
    .flatMap((file) => (file.endsWith('.json') ? [rigOf(file.slice(0, -'.json'.length))] : []))
    .sort((a, b) => a.order - b.order)
    .map(({ name }) => name)
