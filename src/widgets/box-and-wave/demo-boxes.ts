import type { Cabinet } from '../../acoustics/index.ts'
import type { BoxPattern } from '../../engine/questions/box/box-pattern.ts'
import { demoBoxPattern } from '../../engine/questions/box/demo-box-pattern.ts'
import { demoRig } from '../rig-choice/demo-rigs.ts'
import { roundedPattern } from './rounded-pattern.ts'

/** A cabinet of the lessons' rig as one box with its cones. An unknown one stops the build. */
export async function demoBox(name: 'top' | 'sub'): Promise<Cabinet> {
  const rig = await demoRig()
  const cabinet = rig.cabinets.find((one) => one.name === name)
  if (!cabinet) throw new Error(`content/gear/${rig.name} has no cabinet "${name}"`)
  const { widthM, heightM, depthM, ways } = cabinet
  const cones = ways.flatMap(({ drivers }) => drivers.filter(({ kind }) => kind === 'piston'))
  return { widthM, heightM, depthM, drivers: cones }
}

/** The pattern of the demo top's proportions, as a page carries it. */
export const demoPattern = async (): Promise<BoxPattern> => roundedPattern(demoBoxPattern)
