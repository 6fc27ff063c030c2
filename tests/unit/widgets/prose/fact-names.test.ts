import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import ts from 'typescript'
import { expect, test } from 'vitest'
import type { FactName } from '../../../../src/widgets/prose/facts.ts'
import { nearestTo, unknownFact } from '../../../../src/widgets/prose/unknown-fact.ts'

const root = join(import.meta.dirname, '../../../..')

/** What the type FactName allows, read with the compiler: the tables themselves take half a minute to compute. */
let known: Set<string> | undefined
function allowedNames(): Set<string> {
  known ??= readNames()
  return known
}

function readNames(): Set<string> {
  const file = join(root, 'src/widgets/prose/facts.ts')
  const { config } = ts.readConfigFile(join(root, 'tsconfig.json'), ts.sys.readFile)
  const { options } = ts.parseJsonConfigFileContent({ ...config, include: [] }, ts.sys, root)
  const program = ts.createProgram([file, join(root, '.astro/types.d.ts')], options)
  const checker = program.getTypeChecker()
  const source = program.getSourceFile(file)
  const alias = source?.statements.find((one) => ts.isTypeAliasDeclaration(one) && one.name.text === 'FactName')
  const type = alias && checker.getTypeAtLocation(alias)
  return new Set((type?.isUnion() ? type.types : []).flatMap((one) => (one.isStringLiteral() ? [one.value] : [])))
}

/** Every fact that content asks for: page → names. */
const asked = globSync('content/**/*.mdx', { cwd: root }).flatMap((page) =>
  [...readFileSync(join(root, page), 'utf8').matchAll(/<Fact\s+name="([^"]*)"/g)].map(([, name = '']) => ({
    page,
    name,
  })),
)

test('every fact that content asks for is one that a question computes', () => {
  const allowed = allowedNames()
  // The reading of the type is sound: names of a plain list, of a template, and of an object's keys.
  const some: FactName[] = ['walk-bass-drop-beside', 'steer-loss-31.5', 'horn-lets-go', 'box-shadow']
  expect(some.filter((name) => !allowed.has(name))).toEqual([])
  expect(asked.length).toBeGreaterThan(300)
  const unknown = asked.filter(({ name }) => !allowed.has(name))
  expect(
    unknown.map(({ page, name }) => `${page}: "${name}"; near it are ${nearestTo(name, [...allowed]).join(', ')}`),
  ).toEqual([])
  // The compiler has much to read, and a busy machine takes its time.
}, 300_000)

test('every fact that a question computes is asked for somewhere', () => {
  const used = new Set(asked.map(({ name }) => name))
  expect([...allowedNames()].filter((name) => !used.has(name))).toEqual([])
}, 300_000)

test('content names facts in one way only', () => {
  for (const page of globSync('content/**/*.mdx', { cwd: root })) {
    const text = readFileSync(join(root, page), 'utf8')
    expect(text.match(/<\w+Fact\b|<Fact(?! name=")/g) ?? [], page).toEqual([])
  }
})

test('a misspelt name is answered with those most like it', () => {
  expect(nearestTo('lenth', ['width', 'length', 'depth', 'tenth-length'], 2)).toEqual(['length', 'depth'])
  const known = ['wall-rise', 'wall-dip-shift', 'wall-dip-depth', 'speed']
  expect(unknownFact('/lessons/the-wall-joins-in/', 'wall-dip-dept', known).message).toBe(
    '/lessons/the-wall-joins-in/: no fact is called "wall-dip-dept". Near it are "wall-dip-depth", "wall-dip-shift", "wall-rise".',
  )
})
