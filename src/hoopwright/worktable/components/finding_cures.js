// Cures of findings that one press can take: what the button says, what is changed.

/** Findings of more cloth under the foot than fits there. */
const TOO_THICK = ["HW563", "HW564"];

/**
 * The cure of a finding that can be taken at once, null for none.
 * @param {{ code: string }} row @param {any} project
 * @returns {{ says: string, did: string, changes: { path: string, value: any }[] } | null}
 */
export function cureOf(row, project) {
  if (TOO_THICK.includes(row.code) && project?.foundation.batting) return { says: "cure.batting", did: "did.batting", changes: [{ path: "foundation.batting", value: null }] };
  return null;
}
