import type { Component } from 'svelte'
import type { SendProps } from './send-props.ts'

// What is fetched only when it is needed, behind one small file: a page that fetched it by itself would carry the list of all
// that hangs on it.

/** The ways to send a figure. */
export const sendPart = (): Promise<{ default: Component<SendProps> }> =>
  import('./Send.svelte') as Promise<{ default: Component<SendProps> }>

/** The rigs of one's own: the kept ones, and those enclosed with the address. */
export const ownRigs = async (enclosed: string) =>
  enclosed
    ? (await import('../../state/link-to-send.ts')).ownRigs(enclosed)
    : (await import('../../state/saved-rigs.ts')).readSavedRigs().rigs
