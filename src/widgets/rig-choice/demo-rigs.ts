import { getCollection } from 'astro:content'
import type { RigChoice } from './rig-choice.ts'

/** The demo rigs of content/gear in their order. To be called while pages are built. */
export const demoRigs = async (): Promise<RigChoice[]> =>
  (await getCollection('gear'))
    .sort((a, b) => a.data.order - b.data.order)
    .map(({ id, data: { short, description, name, cabinets } }) => ({
      key: id,
      short,
      description,
      rig: { name, cabinets } as RigChoice['rig'],
    }))
