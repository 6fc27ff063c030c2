import type { Component } from 'svelte'
import { isAnyKept, savedHallsKey } from '../../state/kept-list-change.ts'
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
    : (await import('../../state/saved-rigs.ts')).savedRigs.read().things

/** The rigs and the halls of one's own as figures offer them. */
export const ownThings = async (enclosed: string) => ({
  rigs: (await ownRigs(enclosed)).map((await import('../rig-choice/own-rigs.ts')).ownRigChoice),
  halls: enclosed || isAnyKept(savedHallsKey) ? (await import('../rig-choice/own-halls.ts')).ownHalls(enclosed) : [],
})
