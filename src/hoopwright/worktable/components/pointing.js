// Whether a hand points at something, or the page only moved under a pointer that rests. Pure functions, no page.

/** How long a list must have stood before a finger's press on it counts, in milliseconds. */
export const STOOD_MS = 400;

/** Whether a mouse or pen was really moved; a finger only presses. @param {{ pointerType: string, movementX: number, movementY: number }} event */
export const led = (event) => event.pointerType !== "touch" && (event.movementX !== 0 || event.movementY !== 0);

/**
 * Whether a press takes the row it falls on: a mouse must have been led to that row, a finger must have found the list as it
 * was for a while; keys always mean the row that they stand on.
 * @param {{ key: any, aimed: any, by: string, keys: boolean, stood: number }} press
 */
export const meant = ({ key, aimed, by, keys, stood }) => keys || (by === "touch" ? stood >= STOOD_MS : aimed === key);
