import { readerHallDesign } from '../../engine/scene/reader-hall.ts'
import { isSent } from '../../state/enclosed-text.ts'
import { sentHalls } from '../../state/link-to-send.ts'
import { type SavedHall, savedHalls } from '../../state/saved-halls.ts'
import type { HallChoice } from './hall-choice.ts'
import * as say from './own-things.messages.ts'

// The reader's own halls as figures offer them: fetched where there are any.

/** A kept hall, or one that came with the link, as one more choice; none for a hall that cannot be built here. */
export function ownHallChoice({ key, name, hall: { ground, rigAt, places } }: SavedHall): HallChoice[] {
  const sent = isSent(key)
  const choice = {
    key,
    short: say.hallName({ name, sent }),
    description: say.hallIs({ name, sent, ground: ground.kind === 'hall' ? 'hall' : ground.ground }),
    places: places.map(({ name: called, xM, zM }) => ({ name: called, xM: xM - rigAt.xM, zM: zM - rigAt.zM })),
  }
  if (ground.kind === 'outdoors') return [{ ...choice, ground: ground.ground }]
  try {
    return [{ ...choice, design: { ...readerHallDesign(ground), rigAt } }]
  } catch {
    return []
  }
}

/** The kept halls and those enclosed with the address. */
export const ownHalls = (enclosed: string): HallChoice[] =>
  [...savedHalls.read().things, ...(enclosed ? sentHalls(enclosed) : [])].flatMap(ownHallChoice)
