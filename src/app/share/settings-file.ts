/**
 * The file that says that a journal takes part in a share. Asked at every opening, so that a
 * bench by itself loads nothing for it.
 */
export const settingsFile = (journal: string): string => `${journal}-share.json`;
