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
