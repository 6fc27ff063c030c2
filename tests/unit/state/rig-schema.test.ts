import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { demoRigSchema, rigSchema } from '../../../src/state/rig-schema.ts'
import { issueWords } from '../../../src/state/schema-words.ts'
import { demoRigNames, rigOf } from '../../demo-gear.ts'

/** What is said of a value, or '' if it is a rig. */
function fault(schema: v.GenericSchema, value: unknown): string {
  const { issues } = v.safeParse(schema, value)
  return issues ? issues.map(issueWords).join(' ') : ''
}

/** The compact two-way with one thing changed; the change gets the parts of a rig of one cabinet. */
function changed(change: (rig: Record<string, unknown>, cabinet: Record<string, unknown>, horn: object) => void) {
  const rig = JSON.parse(JSON.stringify(rigOf('compact-two-way')))
  change(rig, rig.cabinets[0], rig.cabinets[0].ways[1].drivers[0])
  return rig
}

test.each(demoRigNames())('%s is a demo rig, and without its texts a rig such as a reader keeps', (name) => {
  const file = rigOf(name)
  expect(fault(demoRigSchema, file)).toBe('')
  expect(fault(rigSchema, { name, cabinets: file.cabinets })).toBe('')
  expect(fault(rigSchema, file)).toBe('title: is not known here')
})

describe('what is wrong with a rig is said where it stands, with what is allowed', () => {
  test.each([
    [
      'a size in words',
      changed((_, cabinet) => Object.assign(cabinet, { widthM: '26 cm' })),
      'cabinet 1, widthM: is "26 cm"; allowed is a number',
    ],
    ['a size forgotten', changed((_, cabinet) => delete cabinet['depthM']), 'cabinet 1, depthM: is missing'],
    [
      'a size too many',
      changed((_, cabinet) => Object.assign(cabinet, { weightKg: 9 })),
      'cabinet 1, weightKg: is not known here',
    ],
    [
      'a driver of another kind',
      changed((_r, _c, horn) => Object.assign(horn, { kind: 'ribbon' })),
      'cabinet 1, way 2, driver 1, kind: is "ribbon"; allowed is "piston", "horn"',
    ],
    ['no list', changed((rig) => Object.assign(rig, { cabinets: 'none' })), 'cabinets: is "none"; allowed is a list'],
    [
      'a name without end',
      changed((rig) => Object.assign(rig, { name: 'x'.repeat(201) })),
      'name: is longer than 200 letters',
    ],
    [
      'a place between two',
      changed((rig) => Object.assign(rig, { order: 1.5 })),
      'order: is 1.5; allowed is a whole number',
    ],
    [
      'a place before the first',
      changed((rig) => Object.assign(rig, { order: 0 })),
      'order: is 0; allowed is 1 and more',
    ],
  ])('%s', (_, rig, words) => {
    expect(fault(demoRigSchema, rig)).toBe(words)
  })

  test('numbers that no box can have are refused in the words of the acoustics module', () => {
    expect(
      fault(
        demoRigSchema,
        changed((_, cabinet) => Object.assign(cabinet, { depthM: -0.2 })),
      ),
    ).toMatch(/^cabinet 'compact' .*depthM is -0\.2; allowed is a finite number from 0\.01 to 10 m$/)
  })
})
