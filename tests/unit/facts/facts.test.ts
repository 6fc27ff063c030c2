import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { boxFacts } from '../../../src/engine/questions/box/box-facts.ts'
import { demoBoxPattern } from '../../../src/engine/questions/box/demo-box-pattern.ts'
import { columnFacts } from '../../../src/engine/questions/column/column-facts.ts'
import { compareFacts } from '../../../src/engine/questions/compare/compare-facts.ts'
import { earFacts } from '../../../src/engine/questions/ear/ear-facts.ts'
import type { Fact } from '../../../src/engine/questions/fact.ts'
import { hallFacts } from '../../../src/engine/questions/hall/hall-facts.ts'
import { hornFacts } from '../../../src/engine/questions/horn/horn-facts.ts'
import { planFacts } from '../../../src/engine/questions/plan/plan-facts.ts'
import { steerFacts } from '../../../src/engine/questions/steer/steer-facts.ts'
import { rangeFacts } from '../../../src/engine/questions/walk/range-facts.ts'
import { demoFacts } from '../../../src/engine/questions/walk/walk-facts.ts'
import { wallFacts } from '../../../src/engine/questions/wall/wall-facts.ts'
import { defaultState } from '../../../src/state/share-link.ts'
import { columnLink, columnOf } from '../../../src/widgets/column/column-link.ts'
import { checkGroups } from '../../evidence/index.ts'
import { boxRoutes, conesOf } from './box-routes.ts'
import { columnRoutes } from './column-routes.ts'
import { compareRoutes } from './compare-routes.ts'
import { earRoutes } from './ear-routes.ts'
import { hallRoutes } from './hall-routes.ts'
import { hornRoutes } from './horn-routes.ts'
import { rig } from './plain-rig.ts'
import { planFactsInput, planRoutes } from './plan-routes.ts'
import { demoRigs, rangeRoutes } from './range-routes.ts'
import type { Routes } from './route.ts'
import { steerRoutes } from './steer-routes.ts'
import { walkRoutes } from './walk-routes.ts'
import { wallRoutes } from './wall-routes.ts'

// Every number that prose may ask for is worked out by a second way, or reads off a function whose checks are named.

/** The tables of src/widgets/prose/facts.ts, which itself runs only where the site is built. A question that is missing here fails below. */
const questions = {
  box: { facts: boxFacts(demoBoxPattern, conesOf('top'), conesOf('sub')), routes: boxRoutes },
  column: { facts: columnFacts(columnOf(defaultState(columnLink))), routes: columnRoutes },
  compare: { facts: compareFacts(rig), routes: compareRoutes },
  ear: { facts: earFacts(rig), routes: earRoutes },
  hall: { facts: hallFacts(rig), routes: hallRoutes },
  horn: { facts: hornFacts(), routes: hornRoutes },
  plan: { facts: planFacts(planFactsInput), routes: planRoutes },
  range: { facts: rangeFacts(demoRigs), routes: rangeRoutes },
  steer: { facts: steerFacts(rig), routes: steerRoutes },
  walk: { facts: demoFacts(rig), routes: walkRoutes },
  wall: { facts: wallFacts(rig), routes: wallRoutes },
} as Record<string, { facts: Record<string, Fact>; routes: Routes }>

const root = join(import.meta.dirname, '../../..')
const asked = globSync('content/**/*.mdx', { cwd: root }).flatMap((page) =>
  [...readFileSync(join(root, page), 'utf8').matchAll(/<Fact\s+name="([a-z]+)-([^"]*)"/g)].map(
    ([, question = '', name = '']) => ({ page, question, name }),
  ),
)
const checkIds = new Set(checkGroups.flatMap(({ checks }) => checks.map(({ id }) => id)))

/** Names of one list that are not in the other, with their question. */
const missing = (of: 'facts' | 'routes', from: 'facts' | 'routes') =>
  Object.entries(questions).flatMap(([question, lists]) =>
    Object.keys(lists[of])
      .filter((name) => !Object.hasOwn(lists[from], name))
      .map((name) => `${question}-${name}`),
  )

describe('the list of second ways', () => {
  it('has every question whose facts prose can ask for', () => {
    const table = readFileSync(join(root, 'src/widgets/prose/facts.ts'), 'utf8').match(
      /const tables = \{([\s\S]*?)\n\}/,
    )?.[1]
    expect([...(table ?? '').matchAll(/^ {2}(\w+):/gm)].map(([, question]) => question)).toEqual(Object.keys(questions))
  })
  it('has every fact of every table', () => {
    expect(missing('facts', 'routes')).toEqual([])
  })
  it('has every fact that a page asks for', () => {
    expect(asked.length).toBeGreaterThan(300)
    const without = asked.filter(({ question, name }) => !Object.hasOwn(questions[question]?.routes ?? {}, name))
    expect(without.map(({ page, question, name }) => `${page}: ${question}-${name}`)).toEqual([])
  })
  it('has none for a fact that is gone', () => {
    expect(missing('routes', 'facts')).toEqual([])
  })
  it('names checks that there are', () => {
    for (const [question, { routes }] of Object.entries(questions))
      for (const [name, route] of Object.entries(routes))
        if ('checks' in route) {
          expect(route.checks.length, `${question}-${name}`).toBeGreaterThan(0)
          const unknown = route.checks.filter((id) => !checkIds.has(id))
          expect(unknown, `${question}-${name}`).toEqual([])
        }
  })
})

describe.each(Object.entries(questions))('%s', (question, { facts, routes }) => {
  const second = Object.entries(routes).flatMap(([name, route]) => {
    const fact = facts[name]
    return 'value' in route && fact ? [{ name, fact, ...route }] : []
  })
  it.each(second)('$name', ({ name, fact, value, within, because }) => {
    const again = value()
    const said = `${question}-${name}: the page has ${fact.value}, the second way ${again}; allowed is ${within}, because ${because}`
    expect(Math.abs(fact.value - again) <= within, said).toBe(true)
  })
})
