import { type CollectionEntry, getCollection } from 'astro:content'
import type { Rig } from '../../acoustics/index.ts'
import { lessonRig } from '../../engine/scene/lesson-rig.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'
import type { RigChoice } from './rig-choice.ts'

// The demo rigs of content/gear, for pages while they are built.

const inOrder = async (): Promise<CollectionEntry<'gear'>[]> =>
  (await getCollection('gear')).sort((a, b) => a.data.order - b.data.order)

function rigOf({ id, data: { name, cabinets } }: CollectionEntry<'gear'>): Rig {
  // The solved file, links and facts go by the name.
  if (name !== id) throw new Error(`content/gear/${id}.json: name is “${name}”; allowed is the file's own, “${id}”`)
  return { name, cabinets }
}

/** All of them in their order, as figures offer them. */
export const demoRigs = async (): Promise<RigChoice[]> =>
  (await inOrder()).map((entry) => ({
    key: entry.id,
    short: entry.data.short,
    description: entry.data.description,
    rig: rigOf(entry),
  }))

/** All of them, their solved cabinets at hand. */
export const solvedDemoRigs = async (): Promise<Rig[]> => Promise.all((await inOrder()).map(({ id }) => demoRig(id)))

/** One of them by the name of its file, its solved cabinets at hand. An unknown one stops the build. */
export async function demoRig(key: string = lessonRig): Promise<Rig> {
  const entries = await inOrder()
  const entry = entries.find(({ id }) => id === key)
  if (!entry) {
    throw new Error(`No rig called ${key} in content/gear; there is ${entries.map(({ id }) => id).join(', ')}`)
  }
  const rig = rigOf(entry)
  await loadSolvedRig(rig)
  return rig
}
