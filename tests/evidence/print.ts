/**
 * Prints the achieved error beside the tolerance for every check:  node tests/evidence/print.ts
 * Ends with the counts of the kinds, and with an error code if a check does not pass.
 */
import { checkKinds, countByKind } from './check.ts'
import { checkGroups } from './index.ts'
import { outcomeOf } from './outcome.ts'

let failed = 0
for (const group of checkGroups) {
  console.log(`\n${group.title}`)
  for (const { check, computed, error, toleranceUsed, passed } of group.checks.map(outcomeOf)) {
    if (!passed) failed += 1
    const relation = { equal: '=', 'at most': '≤', 'at least': '≥' }[check.relation ?? 'equal']
    console.log(
      [
        passed ? '✓' : '✗',
        check.id.padEnd(48),
        `${computed.toPrecision(7)} ${relation} ${check.expected} ${check.unit}`.padEnd(40),
        `error ${error.toPrecision(2)}`.padEnd(18),
        `tolerance ${check.tolerance}`.padEnd(20),
        `${(100 * toleranceUsed).toFixed(0)} % used`,
      ].join(' '),
    )
  }
}
const counts = countByKind(checkGroups.flatMap(({ checks }) => checks))
const meaning = {
  outside: 'against published sources',
  law: 'laws that hold exactly',
  measured: 'against a real box',
  method: 'method against method',
  practice: 'common practice, worked examples and memory',
}
console.log(`\n${failed === 0 ? 'All checks pass' : `${failed} checks fail`}. By kind:`)
for (const kind of checkKinds) console.log(`${String(counts[kind]).padStart(6)}  ${kind.padEnd(9)} ${meaning[kind]}`)
process.exitCode = failed === 0 ? 0 : 1
