import type { Rig } from '../../acoustics/index.ts'
import { comparedTable } from '../../engine/questions/steer/compared-facts.ts'
import { tableOffWallM } from '../../engine/questions/steer/place-facts.ts'
import { sizeOf, wallZMOf } from '../../engine/questions/steer/steer-boxes.ts'
import { type Arrangement, countRange, type SteerSurroundings } from '../../engine/questions/steer/steer-terms.ts'
import { textbookSet } from '../../engine/questions/steer/textbook-set.ts'
import { airOf, type InAir, usualAir } from '../../engine/scene/air.ts'
import { movedTablePlace, tablePlace } from '../../engine/scene/demo-hall.ts'
import { defaultState } from '../../state/share-link.ts'
import { type SteerBassState, stateOfSet, steerBassLink } from './steer-bass-link.ts'
import type { StillArrangement } from './steer-still.ts'

/** What a lesson may set the figure to. */
export type Preset = {
  arrangement: Arrangement
  /** Boxes of a line or a row. */
  count?: number
  place?: SteerSurroundings['kind']
  /** From the rearmost face to the wall behind, m. */
  gapM?: number
  /** From the foremost front to the table behind, outdoors, m; else it stands as behind every set that is compared. */
  tableM?: number
  /** Whether the tables in the hall are those moved along the wall. */
  moved?: boolean
  /** Whether the plan shows the same boxes stacked. */
  stacked?: boolean
}

/** The figure's state for a set by the book, with a table that stands as far behind it as behind every other set. */
export function presetState(
  base: SteerBassState,
  {
    arrangement,
    count = countRange[arrangement].min,
    place = 'outdoors',
    gapM = base.gapM,
    tableM,
    moved = false,
    stacked = false,
  }: Preset,
  rig: Rig,
  air: NonNullable<InAir['air']>,
): SteerBassState {
  const size = sizeOf({ rig, point: false })
  const set = textbookSet(
    arrangement,
    count,
    { fromHz: base.fromHz, toHz: base.toHz },
    size,
    airOf(air).speedOfSoundMps,
  )
  const compared = comparedTable(set, size)
  const wallZM = wallZMOf(set, size, { kind: 'wall', gapM, floor: 'hard' })
  const tables = {
    outdoors: tableM === undefined ? compared : { xM: 0, zM: -tableM },
    wall: wallZM === null ? compared : { xM: 0, zM: wallZM + tableOffWallM },
    hall: moved ? movedTablePlace : tablePlace,
  }
  const table = tables[place]
  return {
    ...base,
    ...stateOfSet(set),
    place,
    gapM,
    tableXM: table.xM,
    tableZM: Math.round(table.zM * 100) / 100,
    show: stacked ? 'stacked' : 'set',
  }
}

/** The state that a page begins with: the pair of the link, or another set by the book for the same band and places. */
export function firstSteerState(rigKeys: readonly string[], arrangement: StillArrangement, rig: Rig): SteerBassState {
  const base = defaultState(steerBassLink(rigKeys))
  if (arrangement === base.arrangement) return base
  const set = textbookSet(
    arrangement,
    countRange[arrangement].min,
    { fromHz: base.fromHz, toHz: base.toHz },
    sizeOf({ rig, point: false }),
    airOf(usualAir).speedOfSoundMps,
  )
  return { ...base, ...stateOfSet(set) }
}
