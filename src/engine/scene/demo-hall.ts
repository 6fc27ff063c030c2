import tidewater from '../../../content/halls/tidewater-grange.json' with { type: 'json' }

// What pages, links and plans take from the demo hall; hall-content.ts checks the file when the site is built.

/** The states of the hall, by the names that links carry. */
export type HallStateKey = keyof typeof tidewater.states
/** All of them in the order in which they are offered. */
export const hallStateKeys = Object.keys(tidewater.states) as HallStateKey[]

/** Where a rig's origin (on the floor below the middle of its front) stands in a hall, in the hall's coordinates. It faces +z. */
export const rigInHall = { ...tidewater.rigPlaces.usual, yM: 0 }

/** Where boxes beside each other have their middle. */
export const rowInHall = { ...tidewater.rigPlaces.row, yM: 0 }

/** At the auction tables straight behind the rig, in its coordinates, m: the place that the page begins with. And farther along that wall. */
export const { tables: tablePlace, movedTables: movedTablePlace } = tidewater.listenerPlaces

/** Furniture on the plan, in the coordinates of the rig, m. Drawn, not computed with. */
export const furniture = tidewater.furniture.map(({ label, ...extent }) => ({ name: label, ...extent }))
