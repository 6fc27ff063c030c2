import { expect, test } from 'vitest'
import { type Driver, netFlowShare } from '../../../../src/acoustics/radiation/cabinet.ts'

const piston = (radiusM: number, gain?: number): Driver => ({
  kind: 'piston',
  radiusM,
  xM: 0,
  yM: 0,
  ...(gain !== undefined && { gain }),
})

test('what is left of the flow of drivers of unlike sign, worked by hand', () => {
  expect(netFlowShare([piston(0.1)])).toBe(1)
  expect(netFlowShare([piston(0.1, -2), piston(0.1, -1)])).toBe(1)
  expect(netFlowShare([piston(0.1), piston(0.1, -1)])).toBe(0)
  // Areas 4 : 1, so (4 − 1)/(4 + 1)
  expect(netFlowShare([piston(0.2), piston(0.1, -1)])).toBeCloseTo(0.6, 12)
  expect(() => netFlowShare([piston(0.1, 0)])).toThrow(/no flow/)
  expect(() => netFlowShare([])).toThrow(RangeError)
})
