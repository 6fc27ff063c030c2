// The terms that pages and widgets share with the calculation, without fetching the calculation itself.

/** Height of a standing listener's ears, m (common practice, no source). */
export const earHeightM = 1.6

/** Where a rig is set flat, and where the reader says how loud it is: so far in front, at ear height, m. */
export const referenceDistanceM = 4

/** How loud the front may be set, dB(A) at referenceDistanceM: from talk to the loudest that an event should be. */
export const quietestDbA = 60
export const loudestDbA = 105
export const usualDbA = 85

/** How far a wall may stand behind a rig's rearmost face, m. */
export const nearestWallM = 0.05
export const farthestWallM = 3.5
