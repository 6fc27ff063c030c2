/** Fetches the final check and starts it. A file of its own, so that the page carries the names of no other files. */
export async function fetchFinalCheck(
  ...given: Parameters<typeof import('./start-final-check.ts').startFinalCheck>
): Promise<void> {
  const { startFinalCheck } = await import('./start-final-check.ts')
  await startFinalCheck(...given)
}
