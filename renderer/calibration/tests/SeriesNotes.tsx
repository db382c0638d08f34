/** What is odd about the break tests as a whole, wherever something is made of them. */
export function SeriesNotes({ notes }: { notes: readonly string[] }) {
  if (notes.length === 0) return null;
  return (
    <ul className="series-notes" aria-label="Notes on the break tests">
      {notes.map((note) => (
        <li key={note}>{note}</li>
      ))}
    </ul>
  );
}
