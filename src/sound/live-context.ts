/** A context that is closed before it has woken or gone to sleep refuses to; nothing is to be done about it then. */
export const ignoreClosed = (): void => {}

/**
 * A live context, asleep until the first start; to be opened in answer to a press.
 *
 * @throws Error if the browser has no Web Audio
 */
export function openLiveContext(): AudioContext {
  if (typeof AudioContext === 'undefined') {
    throw new Error('This browser has no Web Audio; the page still explains and draws.')
  }
  const context = new AudioContext({ latencyHint: 'interactive' })
  context.suspend().catch(ignoreClosed)
  return context
}
