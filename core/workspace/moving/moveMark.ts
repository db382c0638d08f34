/** Name under which a store keeps, among its choices, that a move into it is not complete. */
export const MOVE_MARK = 'move not complete';
