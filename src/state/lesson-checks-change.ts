/** Where the results of the lessons' self-checks are kept on the device. */
export const lessonChecksKey = 'round-the-back.checks'

/** Whether anything is kept; the code that reads it is fetched only then. */
export function hasLessonChecks(): boolean {
  try {
    return localStorage.getItem(lessonChecksKey) !== null
  } catch {
    return false
  }
}

/** Calls `listener` when another tab has changed them; returns the function that ends it. */
export function onLessonChecksChange(listener: () => void): () => void {
  const follow = ({ key }: StorageEvent) => {
    if (key === null || key === lessonChecksKey) listener()
  }
  addEventListener('storage', follow)
  return () => removeEventListener('storage', follow)
}
