import content from '../../../content/halls/partitions.json' with { type: 'json' }
import { octaveTable } from '../../acoustics/index.ts'

/** What walls, roofs and doors may be made of, and which of the three each is for. */
export type PartitionPart = 'wall' | 'roof' | 'door'
export type Partition = { key: string; title: string; part: PartitionPart }

/** All of them in the order in which they are offered. */
export const partitions: Partition[] = Object.entries(content.partitions).map(([key, { title, part }]) => ({
  key,
  title,
  part: part as PartitionPart,
}))

/** Octaves of the table, Hz. */
export const partitionOctavesHz: readonly number[] = content.frequenciesHz

/**
 * Sound reduction index of a partition by frequency, dB: between the octaves of the table straight lines over lg f, beyond its ends level.
 *
 * @throws RangeError for a name that the list does not have
 * Source: D. A. Bies, C. H. Hansen, C. Q. Howard, Engineering Noise Control, 5th edition, Table 7.6, in a public transcription.
 */
export function reductionDbOf(name: string): (frequencyHz: number) => number {
  if (!Object.hasOwn(content.partitions, name)) {
    throw new RangeError(`partition is ${name}; allowed is ${Object.keys(content.partitions).join(', ')}`)
  }
  return octaveTable(content.frequenciesHz, content.partitions[name as keyof typeof content.partitions].reductionDb)
}
