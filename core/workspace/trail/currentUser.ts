import { userInfo } from 'node:os';

/** The name by which the operating system knows who runs the program. */
export function currentUser(): string {
  try {
    return userInfo().username.trim() || 'unknown';
  } catch {
    // a user without an entry in the system's list, as in some containers
    return 'unknown';
  }
}
