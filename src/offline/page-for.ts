/**
 * The address under which a page is kept.
 *
 * @param path   that is asked for, '/' first
 * @param isKept whether an address is kept
 * @returns      the same address, or the one with the slash that was left out, or that of the folder whose index was asked for;
 *               undefined if none is kept
 */
export function pageFor(path: string, isKept: (path: string) => boolean): string | undefined {
  return [path, `${path}/`, path.replace(/\/index\.html$/, '/')].find(isKept)
}
