import type { Rig } from '../../acoustics/index.ts'
import { type DemoFact, type DemoFactName, demoFacts } from '../../engine/questions/walk/walk-facts.ts'
import { demoRig } from '../rig-choice/demo-rigs.ts'

const kept = new Map<Rig['name'], Record<DemoFactName, DemoFact>>()

/** The facts of a rig in content/gear, computed once a build. An unknown rig stops the build. */
export async function factsOfRig(rigKey?: string): Promise<Record<DemoFactName, DemoFact>> {
  const rig = await demoRig(rigKey)
  const facts = kept.get(rig.name) ?? demoFacts(rig)
  kept.set(rig.name, facts)
  return facts
}
