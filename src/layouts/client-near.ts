import type { ClientDirective } from 'astro'

/** How far outside the window a figure wakes, px. */
const aheadPx = 300

/**
 * `client:near`: a figure wakes when it comes near the window. Its code runs in one task and is bound to what stands in the page in the
 * next: a slow phone can answer in between.
 */
const near: ClientDirective = (load, _options, island) => {
  const watcher = new IntersectionObserver(
    async (entries) => {
      if (!entries.some(({ isIntersecting }) => isIntersecting)) return
      watcher.disconnect()
      const wake = await load()
      await new Promise((resolve) => setTimeout(resolve))
      await wake()
    },
    { rootMargin: `${aheadPx}px` },
  )
  // The island itself has no box; what stands in it has.
  for (const child of island.children) watcher.observe(child)
}

export default near
