import type { Component } from 'svelte'

// What is fetched only when it is needed, behind one small file: a page that fetched it by itself would carry the list of all
// that hangs on it.

/** What is sent. */
export type SendProps = {
  /** A figure that the link opens at, or without a name a page; its address as it stands now. */
  live: { readonly name?: string; address(): string }
  /** In a few words. */
  title: string
  /** What the link holds or leaves out, where that is not plain. */
  holds?: string
  /** The page that shows the figure alone. */
  embedAddress?: string | undefined
}

/** The ways to send a figure. */
export const sendPart = (): Promise<{ default: Component<SendProps> }> =>
  import('./Send.svelte') as Promise<{ default: Component<SendProps> }>

/** The rigs of one's own: the kept ones, and those enclosed with the address. */
export const ownRigs = async (enclosed: string) =>
  enclosed
    ? (await import('../../state/link-to-send.ts')).ownRigs(enclosed)
    : (await import('../../state/saved-rigs.ts')).readSavedRigs().rigs
