import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  type Check,
  type CheckGroup,
  checkKinds,
  commonPractice,
  countByKind,
  fromMemory,
  headlines,
  passes,
} from './check.ts'
import { checkGroups } from './index.ts'
import { outcomeOf } from './outcome.ts'

const checks = checkGroups.flatMap((group) => group.checks)
const sourcesFolder = new URL('../../content/sources/', import.meta.url)
const sourceKeys = readdirSync(sourcesFolder).map((file) => file.replace(/\.json$/, ''))
const checksFolder = new URL('./checks/', import.meta.url)

/** Kinds of source that are publications; programs and web pages are none. */
const publishedKinds = ['standard', 'book', 'paper', 'measurement']
const kindOf = (source: string): string =>
  (JSON.parse(readFileSync(new URL(`${source}.json`, sourcesFolder), 'utf8')) as { kind: string }).kind

/** A wrong value just on the failing side: past the tolerance by a part in a million of it, and by more than rounding. */
function justOutside({ expected, tolerance, relation }: Check): number {
  const step = tolerance * 1e-6 + Math.max(Math.abs(expected), 1e-300) * 1e-12
  return relation === 'at least' ? expected - tolerance - step : expected + tolerance + step
}

describe('the list of checks', () => {
  it('holds every group of every file in the checks folder', async () => {
    for (const file of readdirSync(checksFolder)) {
      const module: Record<string, unknown> = await import(new URL(file, checksFolder).href)
      const groups = Object.values(module).filter(isCheckGroup)
      expect(groups.length, `${file} exports a group`).toBeGreaterThan(0)
      for (const group of groups) expect(checkGroups, `${file}: ${group.title}`).toContain(group)
    }
  })
  it('gives every check an id of its own, fit for a link', () => {
    const ids = checks.map((check) => check.id)
    expect(new Set(ids).size).toBe(ids.length)
    for (const id of ids) expect(id).toMatch(/^[a-z0-9.]+(-[a-z0-9.]+)*$/)
  })
  it('names a source that the site lists, or says that there is none', () => {
    for (const { id, source } of checks) expect([...sourceKeys, commonPractice, fromMemory], id).toContain(source)
  })
  it('gives every check a finite expectation, a tolerance of 0 or more, and words', () => {
    for (const { id, expected, tolerance, ...check } of checks) {
      expect(Number.isFinite(expected), id).toBe(true)
      expect(Number.isFinite(tolerance) && tolerance >= 0, id).toBe(true)
      for (const words of [check.quantity, check.input, check.unit, check.toleranceReason])
        expect(words.trim(), id).not.toBe('')
    }
  })
  it('has no check that cannot fail', () => {
    for (const check of checks) {
      expect(passes(check, justOutside(check)), check.id).toBe(false)
      if ((check.relation ?? 'equal') === 'equal') {
        expect(passes(check, 2 * check.expected - justOutside(check)), `${check.id}, other side`).toBe(false)
      }
      for (const noNumber of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
        expect(passes(check, noNumber), `${check.id}, ${noNumber}`).toBe(false)
      }
    }
  })
  it('gives every check a kind, and calls only published sources outside', () => {
    for (const { id, kind, source } of checks) {
      expect(checkKinds, id).toContain(kind)
      const published = source !== commonPractice && source !== fromMemory && publishedKinds.includes(kindOf(source))
      if (kind === 'outside') expect(published, `${id}: ${source} is published`).toBe(true)
      if (kind === 'practice') expect(published && kindOf(source) === 'standard', `${id}: is no standard`).toBe(false)
    }
  })
  it('counts every check once among the kinds', () => {
    const counts = countByKind(checks)
    expect(Object.values(counts).reduce((sum, count) => sum + count, 0)).toBe(checks.length)
  })
  it.each(headlines)('holds %s, which the pages lead with, against a published source or a real box', (headline) => {
    const bearing = checks.filter(
      ({ kind, about }) => (kind === 'outside' || kind === 'measured') && about?.includes(headline),
    )
    expect(bearing.length, headline).toBeGreaterThan(0)
  })
  it('gives every group a heading of its own', () => {
    const titles = checkGroups.map((group) => group.title)
    expect(new Set(titles).size).toBe(titles.length)
  })
})

describe.each(checkGroups)('$title', ({ checks: checksOfGroup }) => {
  it.each(checksOfGroup)('$id', (check) => {
    const { computed, error, passed } = outcomeOf(check)
    expect(
      passed,
      `${check.quantity}, ${check.input}: computed ${computed}, ${check.relation ?? 'equal'} ${check.expected} ${check.unit}; ` +
        `error ${error} beside tolerance ${check.tolerance} ${check.unit}`,
    ).toBe(true)
  })
})

describe('the sources', () => {
  it('are each described in words', () => {
    for (const key of sourceKeys) {
      const source = JSON.parse(readFileSync(new URL(`${key}.json`, sourcesFolder), 'utf8')) as {
        [field: string]: unknown
        year: unknown
      }
      for (const field of ['title', 'publisher', 'used']) expect(source[field], `${key}: ${field}`).toBeTruthy()
      expect(Number.isInteger(source.year), `${key}: year`).toBe(true)
    }
  })
})

function isCheckGroup(value: unknown): value is CheckGroup {
  return (
    typeof value === 'object' && value !== null && 'title' in value && 'checks' in value && Array.isArray(value.checks)
  )
}
