import type { Rig } from '../../acoustics/index.ts'
import * as say from './scene.messages.ts'

/** How long a file of solved cabinets may take to arrive, s. */
const patienceS = 20

/**
 * The file of solved cabinets that belongs to a demo rig, or undefined for a rig of the reader's own, which has none.
 * Whatever lies in content/gear is a demo rig; `npm run solve-gear` makes its file. A browser fetches it, everybody else
 * reads it from disk.
 *
 * @throws Error in plain words if the file is missing or cannot be had
 */
export async function readSolvedFile({ name }: Pick<Rig, 'name'>): Promise<Uint8Array | undefined> {
  if (import.meta.env?.SSR ?? true) return readFromDisk(name)
  const addresses: Record<string, string> = import.meta.glob('../../../content/gear/solved/*.bin', {
    query: '?url',
    import: 'default',
    eager: true,
  })
  const address = addresses[`../../../content/gear/solved/${name}.bin`]
  return address === undefined ? undefined : fetchSolvedFile(address)
}

async function readFromDisk(name: string): Promise<Uint8Array | undefined> {
  const { existsSync } = await import('node:fs')
  const { readFile } = await import('node:fs/promises')
  if (!existsSync(`content/gear/${name}.json`)) return undefined
  const file = `content/gear/solved/${name}.bin`
  if (!existsSync(file)) throw new Error(`${file} is missing; ${solveHint(name)}`)
  return readFile(file)
}

/** What makes the file of a demo rig. */
export const solveHint = (name: string): string => `solve its cabinets with: npm run solve-gear ${name}`

/** Fetches a file of solved cabinets. Throws Error whose message says in a few words why it cannot be had in time. */
export async function fetchSolvedFile(address: string): Promise<Uint8Array> {
  try {
    const response = await fetch(address, { signal: AbortSignal.timeout(patienceS * 1000) })
    if (!response.ok) throw new Error(say.siteAnswered({ status: response.status }))
    return new Uint8Array(await response.arrayBuffer())
  } catch (error) {
    const late = error instanceof DOMException && error.name === 'TimeoutError'
    throw late ? new Error(say.notInTime({ seconds: patienceS })) : error
  }
}
