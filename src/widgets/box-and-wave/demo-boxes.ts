import { getEntry } from 'astro:content'
import type { Cabinet, RigCabinet } from '../../acoustics/index.ts'
import type { BoxPattern } from '../../engine/questions/box/box-pattern.ts'
import { demoBoxPattern } from '../../engine/questions/box/demo-box-pattern.ts'
import { roundedPattern } from './rounded-pattern.ts'

/** A cabinet of the demo rig "top over sub" as one box with its cones. An unknown one stops the build. */
export async function demoBox(name: 'top' | 'sub'): Promise<Cabinet> {
  const entry = await getEntry('gear', 'top-over-sub')
  const cabinet = (entry?.data.cabinets as RigCabinet[] | undefined)?.find((one) => one.name === name)
  if (!cabinet) throw new Error(`content/gear/top-over-sub has no cabinet "${name}"`)
  const { widthM, heightM, depthM, ways } = cabinet
  const cones = ways.flatMap(({ drivers }) => drivers.filter(({ kind }) => kind === 'piston'))
  return { widthM, heightM, depthM, drivers: cones }
}

/** The pattern of the demo top's proportions, as a page carries it. */
export const demoPattern = async (): Promise<BoxPattern> => roundedPattern(demoBoxPattern)
