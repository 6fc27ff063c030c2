import * as v from 'valibot'
import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import tidewater from '../../../content/halls/tidewater-grange.json' with { type: 'json' }
import { hallSurfaces } from '../../acoustics/field/hall.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import type { HallDesign } from './hall-scene.ts'
import { type FinishesContent, finishesSchema, type HallContent, hallSchema } from './hall-schema.ts'
import type { HallState } from './hall-terms.ts'

/**
 * The states of a hall of content/halls as plain data.
 *
 * @throws RangeError naming the file, the place in it and what is allowed there, for a finish that the list does not have
 *         or anything else that is not as hall-schema.ts says
 */
export function hallStates(hall: HallContent, content: FinishesContent): HallState[] {
  const finishNames = Object.keys(content.finishes)
  const { frequenciesHz, finishes, people } = checked(
    'finishes',
    finishesSchema(content.frequenciesHz.length, finishNames),
    content,
  )
  const checkedHall = checked(hall.name, hallSchema(finishNames, Object.keys(people)), hall)
  const { lengthM, widthM, heightM, audience, states, surfaces: own } = checkedHall
  const { absorption, perM2 } = known(people, audience.kind)
  const table = (finish: string) => known(finishes, finish).absorption
  const occupiedM2 = audience.people / perM2
  requireInRange('audience.people', occupiedM2, { min: 0, max: lengthM * widthM, unit: 'm² of floor' })
  /** What people add: their coefficient is that of the floor with them on it, so the floor that they cover no longer counts. */
  const peopleM2 = (floor: number[]) =>
    absorption.map((alpha, octave) => occupiedM2 * Math.max(0, alpha - (floor[octave] as number)))
  return Object.entries(states).map(([key, { short, description, surfaces, people: present }]) => ({
    key,
    short,
    description,
    design: {
      lengthM,
      widthM,
      heightM,
      frequenciesHz,
      surfaces: Object.fromEntries(
        hallSurfaces.map((surface) => [surface, table(surfaces[surface] ?? own[surface])]),
      ) as HallDesign['surfaces'],
      objectsM2: present ? peopleM2(table(surfaces.floor ?? own.floor)) : absorption.map(() => 0),
    },
  }))
}

function checked<S extends v.GenericSchema>(name: string, schema: S, value: unknown): v.InferOutput<S> {
  const { success, output, issues } = v.safeParse(schema, value)
  if (success) return output
  const faults = issues.map((issue) => [v.getDotPath(issue), issue.message].filter(Boolean).join(': '))
  throw new RangeError(`content/halls/${name}.json: ${faults.join('; ')}`)
}

/** An entry that the schema has made sure of. */
function known<Entry>(entries: Record<string, Entry>, name: string): Entry {
  const entry = entries[name]
  if (!entry) throw new RangeError(`${name} is not among ${Object.keys(entries).join(', ')}`)
  return entry
}

/** The states of the demo hall. For pages at build and for tests; a widget gets them as props. */
export const demoHallStates: HallState[] = hallStates(tidewater, finishes)
export const demoHallTitle: string = tidewater.title
