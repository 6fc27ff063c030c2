/**
 * Fetches the self-check and starts it. A file of its own, because the page carries the names of all files that what it imports
 * stands on, whether the fold is opened or not.
 */
export async function fetchSelfCheck(fold: HTMLDetailsElement): Promise<void> {
  const { startSelfCheck } = await import('./start-self-check.ts')
  await startSelfCheck(fold)
}
