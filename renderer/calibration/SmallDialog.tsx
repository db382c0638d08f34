import { CloseButton, Modal } from '@mantine/core';
import type { ReactNode } from 'react';

/** A dialog with its title and a way out, as the other places have it. */
export function SmallDialog(props: {
  title: string;
  size?: 'md' | 'lg' | 'xl' | '80rem';
  onClose: () => void;
  children: ReactNode;
}) {
  const { title, size = 'md', onClose, children } = props;
  return (
    <Modal.Root opened onClose={onClose} size={size} transitionProps={{ duration: 0 }}>
      <Modal.Overlay />
      <Modal.Content aria-label={title}>
        <Modal.Body>
          <div className="dialog-head">
            <h2>{title}</h2>
            <CloseButton aria-label="Close" onClick={onClose} />
          </div>
          <div className="small-dialog">{children}</div>
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}
