import * as v from 'valibot'
import { inTurn } from './in-turn.ts'
import { keepText, onKeptChange, storedText, versionedJson } from './kept-text.ts'
import * as say from './plan.messages.ts'
import { planFaults } from './plan-faults.ts'
import { mostCabinets, mostPlaces, type Plan, type PlanKnown, planSchema, planVersion } from './plan-schema.ts'
import { issueWords } from './schema-words.ts'

// A plan as the text of a file, and as the device keeps it.

export const planKey = 'round-the-back.plan'

/** No honest plan is longer, characters. */
const longestFile = 400_000

/** A plan as the text of one file. */
export const writePlan = (plan: Plan): string => JSON.stringify(plan, null, 2)

/** A plan out of the text of a file, or in words why it cannot be one. Never throws. */
export function readPlan(text: string, known: PlanKnown): Plan | string {
  if (text.length > longestFile) return say.tooLongFile()
  const json = versionedJson(text, planVersion)
  if (typeof json === 'string') return { notJson: say.notJson, noVersion: say.noVersion, newer: say.newer }[json]()
  return readPlanValue(json.value, known)
}

/** A plan out of the value that a text of the right version holds, or in words why it cannot be one. Never throws. */
function readPlanValue(value: unknown, known: PlanKnown): Plan | string {
  const kind = v.safeParse(
    v.object({ ground: v.unknown(), cabinets: v.array(v.unknown()), places: v.array(v.unknown()) }),
    value,
  )
  if (!kind.success) return say.otherKind()
  const { cabinets, places } = kind.output
  if (cabinets.length > mostCabinets) return say.tooManyCabinets({ count: cabinets.length, most: mostCabinets })
  if (places.length > mostPlaces) return say.tooManyPlaces({ count: places.length, most: mostPlaces })
  const flat = withoutVolume(kind.output.ground)
  if (flat) return flat
  const read = v.safeParse(planSchema, value)
  if (!read.success) return issueWords(read.issues[0])
  const [fault] = planFaults(read.output, known)
  return fault ?? read.output
}

/** Why a hall has no volume, if it has none. */
function withoutVolume(ground: unknown): string {
  const hall = v.safeParse(v.object({ lengthM: v.number(), widthM: v.number(), heightM: v.number() }), ground)
  if (!hall.success) return ''
  return Object.values(hall.output).some((side) => side <= 0) ? say.noVolume() : ''
}

/** What the device keeps; undefined when it keeps nothing, and why it cannot be read, or ''. Never throws. */
export function keptPlan(known: PlanKnown): { plan: Plan | undefined; problem: string } {
  const text = storedText(planKey) ?? null
  if (text === null) return { plan: undefined, problem: '' }
  const read = readPlan(text, known)
  return typeof read === 'string'
    ? { plan: undefined, problem: say.keptUnread({ reason: read }) }
    : { plan: read, problem: '' }
}

/**
 * Keeps a plan on the device, in turn with other tabs. Never rejects.
 *
 * A plan is one piece: what two tabs change at a time cannot be put together. The one that was kept last stands, the other tab
 * follows it (onPlanChange), and has its own as a step back.
 *
 * @returns  why it is not kept, or ''
 */
export function keepPlan(plan: Plan, known: PlanKnown): Promise<string> {
  return inTurn(planKey, () => {
    const before = storedText(planKey) ?? null
    const unread = before !== null && typeof readPlan(before, known) === 'string' ? before : null
    return keepText(planKey, writePlan(plan), unread) && say.notKept()
  })
}

/** Calls back when another tab has changed the plan; returns the function that ends it. */
export const onPlanChange = (listener: () => void): (() => void) => onKeptChange(planKey, listener)
