import { gaussLegendre } from './gauss-legendre.ts'

const rules = new Map<number, ReturnType<typeof gaussLegendre>>()

/** The rule of gaussLegendre, made once for each number of points; not to be changed. */
export function gaussRule(count: number): ReturnType<typeof gaussLegendre> {
  const rule = rules.get(count) ?? gaussLegendre(count)
  rules.set(count, rule)
  return rule
}
