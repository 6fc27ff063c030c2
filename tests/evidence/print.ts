/**
 * Prints the achieved error beside the tolerance for every check:  node tests/evidence/print.ts
 * Ends with an error code if one does not pass.
 */
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
process.exitCode = failed === 0 ? 0 : 1
