import { getEntry } from 'astro:content'
import { type DemoFact, type DemoFactName, demoFacts } from '../../engine/questions/walk/walk-facts.ts'
import { loadSolvedRig } from '../../engine/scene/solved-gear.ts'

const kept = new Map<string, Record<DemoFactName, DemoFact>>()

/** The facts of a rig in content/gear, computed once a build. An unknown rig stops the build. */
export async function factsOfRig(rigKey: string): Promise<Record<DemoFactName, DemoFact>> {
  const known = kept.get(rigKey)
  if (known) return known
  const entry = await getEntry('gear', rigKey)
  if (!entry) throw new Error(`Fact: content/gear has no "${rigKey}"`)
  await loadSolvedRig(entry.data)
  const facts = demoFacts(entry.data)
  kept.set(rigKey, facts)
  return facts
}
