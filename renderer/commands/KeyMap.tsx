import './commands.css';
import { CloseButton, Modal } from '@mantine/core';
import { WINDOW_COMMANDS } from '../../core/workspace/contract.ts';
import { nameKeys, PLACE_KEYS } from './keys.ts';

/** Every key of the window: those that do the same anywhere, then those of each place. */
export function KeyMap({ onClose }: { onClose: () => void }) {
  const anywhere = {
    where: 'Anywhere',
    keys: WINDOW_COMMANDS.map(({ keys, title }) => [nameKeys(keys), title] as const),
  };
  return (
    <Modal.Root opened onClose={onClose} size="lg" transitionProps={{ duration: 0 }}>
      <Modal.Overlay />
      <Modal.Content aria-label="Keys of the window">
        <Modal.Body>
          <div className="dialog-head">
            <h2>Keys of the window</h2>
            <CloseButton aria-label="Close" onClick={onClose} />
          </div>
          <div className="key-map">
            {[anywhere, ...PLACE_KEYS].map(({ where, keys }) => (
              <section key={where} aria-label={where}>
                <h3>{where}</h3>
                <dl>
                  {keys.map(([key, does]) => (
                    <div key={key}>
                      <dt>
                        <kbd>{key}</kbd>
                      </dt>
                      <dd>{does}</dd>
                    </div>
                  ))}
                </dl>
              </section>
            ))}
          </div>
        </Modal.Body>
      </Modal.Content>
    </Modal.Root>
  );
}
