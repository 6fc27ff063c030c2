// What pages fetch only when it is needed, behind one small file: a script that fetched it by itself would carry the list of all
// that hangs on it.

/** Wakes the form of the air; open if it was asked for by then. */
export const startAirPanel = async (button: HTMLButtonElement, panel: HTMLFormElement, isWanted: () => boolean) => {
  const { startAirPanel: start } = await import('./air-panel.ts')
  start(button, panel, isWanted())
}

/** Puts the ways to send the page into a fold of it. */
export const sendPage = async (fold: HTMLElement) => (await import('../widgets/send/send-page.ts')).sendPage(fold)

/** Says in the foot of the page that something is set aside. */
export const showSetAside = async (line: HTMLElement) => (await import('./set-aside.ts')).showSetAside(line)

/** Shows what came with the page's address. */
export const showReceived = async (later?: Event) =>
  (await import('../widgets/received/show-received.ts')).showReceived(later)
