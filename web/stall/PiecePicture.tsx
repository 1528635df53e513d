import { useKeptPicture } from '../keep/use-store.ts';
import type { Piece } from './day-sheet.ts';
import { PieceDrawing } from './PieceDrawing.tsx';

/** The kept picture of a piece: her own photo, or the carrier as it was planned; a small drawing where there is none. */
export function PiecePicture({ piece: { id, carrier } }: { readonly piece: Piece }) {
  const url = useKeptPicture(id);
  return url ? <img className="piece__picture" src={url} alt="" /> : <PieceDrawing {...carrier} />;
}
