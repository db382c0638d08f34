/*
 * Rulings: what people decide about one visit or several, with the reason, a second signature where somebody gives one,
 * and taking back what was just decided.
 */
export { RulingForm } from './RulingForm.tsx';
export { RulingList } from './RulingList.tsx';
export { TakeBack } from './TakeBack.tsx';
