/** The place of the trainer. */
export function ClassroomPlace() {
  return (
    <main className="place">
      <h1>Classroom</h1>
    </main>
  );
}
