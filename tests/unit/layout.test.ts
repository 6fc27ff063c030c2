import { existsSync, globSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative } from 'node:path'
import { describe, expect, test } from 'vitest'

const root = join(import.meta.dirname, '../..')
const source = join(root, 'src')

/** Layers from the ground up: a file may import from its own layer and from those listed for it. */
const allowed: Record<string, string[]> = {
  acoustics: [],
  engine: ['acoustics'],
  state: ['acoustics'],
  offline: [],
  sound: ['acoustics', 'engine'],
  words: ['acoustics', 'engine', 'state'],
  charts: ['acoustics', 'engine', 'state', 'words'],
  widgets: ['acoustics', 'engine', 'state', 'sound', 'words', 'charts'],
  layouts: ['acoustics', 'engine', 'state', 'sound', 'words', 'charts', 'widgets', 'styles'],
  pages: ['acoustics', 'engine', 'state', 'sound', 'words', 'charts', 'widgets', 'layouts', 'styles'],
}

type Import = { file: string; from: string; to: string; specifier: string }

const imports: Import[] = globSync('src/**/*.{ts,svelte,astro}', { cwd: root }).flatMap((file) => {
  const text = readFileSync(join(root, file), 'utf8')
  return [...text.matchAll(/(?:\bfrom|\bimport|new URL\()\s*\(?\s*'(\.{1,2}\/[^']+)'/g)].map(([, specifier = '']) => {
    const target = relative(source, join(root, dirname(file), specifier))
    return { file, from: file.split('/')[1] ?? '', to: target.split('/')[0] ?? '', specifier }
  })
})

/** Every file of src with the files of src that it imports, types included. */
const files = [...Map.groupBy(imports, ({ file }) => file)].map(([file, own]) => ({
  file: relative('src', file),
  targets: own.map(({ specifier }) => relative(source, join(root, dirname(file), specifier))),
}))

describe('the layout of the repository', () => {
  test('the top level holds what is planned and nothing else', () => {
    const planned = [
      'DEVELOPERS.md',
      'README.md',
      'astro.config.mjs',
      'content',
      'package-lock.json',
      'package.json',
      'src',
      'tests',
      'tsconfig.json',
    ]
    const built = ['dist', 'node_modules']
    const present = readdirSync(root).filter((name) => !name.startsWith('.') && !built.includes(name))
    expect(present.sort()).toEqual(planned.sort())
  })

  test('README.md shows pictures that are there, and no other is kept', () => {
    const readme = readFileSync(join(root, 'README.md'), 'utf8')
    const shown = [...readme.matchAll(/content\/pictures\/([\w-]+\.webp)/g)].map(([, name]) => name)
    expect(shown.sort()).toEqual(readdirSync(join(root, 'content', 'pictures')).sort())
  })

  test('the check sees the imports it is to judge', () => {
    expect(imports.length).toBeGreaterThan(100)
    expect(imports.some(({ from, to }) => from === 'engine' && to === 'acoustics')).toBe(true)
    expect(imports.some(({ from, to }) => from === 'widgets' && to === 'charts')).toBe(true)
  })

  test('imports run one way: pages → widgets → charts · words · sound · state · engine → acoustics', () => {
    const wrong = imports.filter(
      ({ from, to }) => allowed[from] && to !== from && to !== '..' && !allowed[from].includes(to),
    )
    expect(wrong).toEqual([])
  })

  test('only pages reach outside src for the evidence, and only the engine for solved cabinets, halls and measured boxes', () => {
    const allowedOutside: Record<string, string[]> = {
      pages: ['/tests/evidence/'],
      engine: ['/content/gear/solved/', '/content/halls/', '/content/measured/'],
    }
    const outside = imports.filter(({ to }) => to === '..')
    const isAllowed = ({ from, specifier }: (typeof imports)[number]) =>
      (allowedOutside[from] ?? []).some((folder) => specifier.includes(folder))
    expect(outside.filter((one) => !isAllowed(one))).toEqual([])
  })

  test('the acoustics module imports nothing of ours and no browser, file or framework module', () => {
    const known = ['fft.js', '@stdlib/math-base-special-besselj1']
    for (const file of globSync('src/acoustics/**/*.ts', { cwd: root })) {
      const text = readFileSync(join(root, file), 'utf8')
      for (const [, specifier = ''] of text.matchAll(/(?:\bfrom|\bimport)\s*\(?\s*'([^']+)'/g)) {
        if (specifier.startsWith('.')) {
          expect(specifier, `${file} imports with its ending`).toMatch(/\.ts$/)
          expect(existsSync(join(root, dirname(file), specifier)), `${file} → ${specifier}`).toBe(true)
        } else expect(known, `${file} → ${specifier}`).toContain(specifier)
      }
      expect(text, file).not.toMatch(/\b(document|window|localStorage|AudioContext|process)\./)
    }
  })

  test('nothing that is no page becomes an address: beside a page, messages have a name with _ before it', () => {
    expect(globSync('src/pages/**/*.messages.json', { cwd: root }).length).toBeGreaterThan(3)
    expect(globSync('src/pages/**/[!_]*.messages.json', { cwd: root })).toEqual([])
  })

  test('inside the engine imports run one way: workers → solving → questions → scene', () => {
    const ideas = ['scene', 'questions', 'solving', 'workers']
    const ideaOf = (path: string) => ideas.indexOf(/^engine\/([^/]+)\//.exec(path)?.[1] ?? '')
    const within = files.filter(({ file }) => ideaOf(file) >= 0)
    expect(within.length).toBeGreaterThan(60)
    const wrong = within.flatMap(({ file, targets }) =>
      targets.filter((target) => ideaOf(target) > ideaOf(file)).map((target) => `${file} → ${target}`),
    )
    expect(wrong).toEqual([])
  })

  test('no question imports another one, except for facts', () => {
    const questionOf = (path: string) => /^engine\/questions\/([^/]+)\//.exec(path)?.[1]
    const wrong = files.flatMap(({ file, targets }) => {
      const own = questionOf(file)
      if (!own || file.endsWith('-facts.ts')) return []
      const others = targets.filter((target) => (questionOf(target) ?? own) !== own)
      return others.map((target) => `${file} → ${target}`)
    })
    expect(wrong).toEqual([])
  })

  test('no files import each other in a circle', () => {
    const targetsOf = new Map(files.map(({ file, targets }) => [file, targets]))
    const state = new Map<string, 'open' | 'done'>()
    const circles: string[] = []
    const walk = (file: string, path: string[]) => {
      if (state.get(file) === 'open') circles.push([...path.slice(path.indexOf(file)), file].join(' → '))
      if (state.has(file)) return
      state.set(file, 'open')
      for (const target of targetsOf.get(file) ?? []) walk(target, [...path, file])
      state.set(file, 'done')
    }
    for (const { file } of files) walk(file, [])
    expect(circles).toEqual([])
  })
})
