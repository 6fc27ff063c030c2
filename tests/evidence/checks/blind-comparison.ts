import { binomialAtLeast } from '../../../src/acoustics/hearing/binomial.ts'
import type { Check, CheckGroup } from '../check.ts'
import digits from '../reference/binomial-digits.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const tails: Check[] = digits.tails.map(({ trials, atLeast, chance, value }) => ({
  id: `binomial-${trials}-${atLeast}-${idPart(chance)}`,
  kind: 'method',
  quantity: 'Chance of so many right answers or more: relative error',
  unit: '1',
  source: 'scipy',
  place: `scipy.stats.binom.sf, digits by binomial-digits.py (${digits.source.split(', ').slice(1).join(', ')})`,
  input: `${atLeast} or more of ${trials}, each right with probability ${chance}`,
  expected: 0,
  tolerance: 1e-12,
  toleranceReason: 'double precision of the library’s incomplete beta function and of a sum of up to 100 terms',
  computed: () => binomialAtLeast({ trials, atLeast }, chance) / value - 1,
}))

export const blindComparisonChecks: CheckGroup = {
  title: 'Blind comparison: what guessing does',
  checks: tails,
}
