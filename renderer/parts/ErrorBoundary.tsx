import { Component, type ReactNode } from 'react';
import { ErrorNote } from './ErrorNote.tsx';

/** Keeps an error of the window itself within one place, and says it in words instead of an empty screen. */
export class ErrorBoundary extends Component<{ children: ReactNode }, { error: Error | null }> {
  override state: { error: Error | null } = { error: null };

  static getDerivedStateFromError(error: Error): { error: Error } {
    return { error };
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (!error) return this.props.children;
    return (
      <main className="place">
        <ErrorNote
          failure={{
            code: 'window.broken',
            message: `This window met an error of its own: ${error.message}`,
            hint: 'Nothing stored was touched. Load the page again; if the error stays, report what was done before.',
          }}
        />
      </main>
    );
  }
}
