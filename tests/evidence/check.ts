/**
 * What stands on the other side of a check. Only `outside` is a comparison with published sources, only `measured` one with a real box.
 *
 *   outside   a published value, or a published formula worked apart from this project's code
 *   law       what must hold exactly: energy, reciprocity, limits, identities
 *   measured  a real box, measured by others
 *   method    another method, or a program of others, for the same quantity
 *   practice  a rule of the trade, a worked example or a value from memory: no publication stands behind it
 */
export const checkKinds = ['outside', 'law', 'measured', 'method', 'practice'] as const
export type CheckKind = (typeof checkKinds)[number]

/** The quantities that the pages lead with. Each needs a check of kind `outside` or `measured`, which says so in its `about`. */
export const headlines = [
  ...(['63', '1k', '4k'] as const).flatMap((at) => [`front-${at}`, `beside-${at}`, `behind-${at}`] as const),
  'bass-share',
  'dip',
  'critical-distance',
  'rejection',
] as const
export type Headline = (typeof headlines)[number]

/**
 * One claim of the acoustics module held against something outside the project.
 * The same list is asserted by Vitest and printed on the page /evidence.
 */
export type Check = {
  /** Unique, kebab-case, stable: links point at it. */
  id: string
  kind: CheckKind
  /** Which of the headline quantities it bears on. */
  about?: Headline[]
  /** What is compared, as a reader would say it: 'A weighting at 31.5 Hz'. */
  quantity: string
  /** Unit of expected, computed and tolerance: 'dB', 'Hz', 'm', '1'. */
  unit: string
  /** File name (without .json) in content/sources, or one of the two honest phrases. */
  source: string | typeof commonPractice | typeof fromMemory
  /** Where in the source: table, clause, section. */
  place?: string
  /** The input in words and numbers: '31.62 Hz' or 'ka = 5, 30°'. */
  input: string
  expected: number
  /** 'equal' (the default): |computed − expected| ≤ tolerance. 'at most' and 'at least': the limit may be passed by the tolerance. */
  relation?: 'equal' | 'at most' | 'at least'
  /** In the same unit as expected; 0 or more. */
  tolerance: number
  /** Why the tolerance has its size: 'the table is rounded to 0.1 dB'. */
  toleranceReason: string
  computed: () => number
}

/** A group of checks under one heading of the evidence page. */
export type CheckGroup = { title: string; checks: Check[] }

export const commonPractice = 'common practice, no source'
export const fromMemory = 'value from memory'

/** How a reason begins whose tolerance was not set before the comparison. */
export const setAfter = 'set after comparing'

/** How many checks there are of each kind. */
export const countByKind = (checks: readonly Pick<Check, 'kind'>[]): Record<CheckKind, number> =>
  Object.fromEntries(checkKinds.map((kind) => [kind, checks.filter((check) => check.kind === kind).length])) as Record<
    CheckKind,
    number
  >

/** Whether a computed value meets the check. */
export function passes(check: Check, computed: number): boolean {
  if (!Number.isFinite(computed)) return false
  const error = computed - check.expected
  if (check.relation === 'at most') return error <= check.tolerance
  if (check.relation === 'at least') return error >= -check.tolerance
  return Math.abs(error) <= check.tolerance
}
