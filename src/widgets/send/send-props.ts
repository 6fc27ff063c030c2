/** What is sent. */
export type SendProps = {
  /** A figure that the link opens at, or without a name a page; its address as it stands now. */
  live: { readonly name?: string; address(): string }
  /** In a few words. */
  title: string
  /** What the link holds or leaves out, where that is not plain. */
  holds?: string
  /** A plan that travels along, as writePlan has it; and what saves it as a file, for one that is too long. */
  plan?: { value: unknown; onsave: () => void }
  /** The page that shows the figure alone. */
  embedAddress?: string | undefined
}
