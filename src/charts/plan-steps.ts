import type { PlanPoint } from '../acoustics/index.ts'

/**
 * Keys that move a handle over the floor as it is drawn: right is forward (+z), down is to the rig's right (+x). Home and End go
 * further back and ahead than any floor.
 */
export const floorSteps = (stepM: number, pageM: number): Record<string, PlanPoint> => ({
  ArrowRight: { xM: 0, zM: stepM },
  ArrowLeft: { xM: 0, zM: -stepM },
  ArrowUp: { xM: -stepM, zM: 0 },
  ArrowDown: { xM: stepM, zM: 0 },
  PageUp: { xM: 0, zM: pageM },
  PageDown: { xM: 0, zM: -pageM },
  Home: { xM: 0, zM: -1000 },
  End: { xM: 0, zM: 1000 },
})

/** Keys that change one length: right and up make it longer; Home and End go further than any range. */
export const lengthSteps = (stepM: number, pageM: number): Record<string, number> => ({
  ArrowRight: stepM,
  ArrowUp: stepM,
  ArrowLeft: -stepM,
  ArrowDown: -stepM,
  PageUp: pageM,
  PageDown: -pageM,
  Home: -1000,
  End: 1000,
})
