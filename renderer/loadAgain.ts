/** Loads the window anew on the workspace that is open; everything in it, the visit in its address too, is of the former one. */
export function loadAgain(): void {
  location.hash = '';
  location.reload();
}
