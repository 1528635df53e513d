import { useCallback, useEffect, useState } from 'react';
import type { Store } from '../keep/store.ts';
import { useAsked } from '../keep/use-store.ts';
import type { Piece } from './day-sheet.ts';
import { PieceDrawing } from './PieceDrawing.tsx';

/** The kept picture of a piece: her own photo, or the carrier as it was planned; a small drawing where there is none. */
export function PiecePicture({ piece }: { readonly piece: Piece }) {
  const { id, carrier } = piece;
  const picture = useAsked(
    null,
    useCallback((store: Store) => store.picture(id), [id]),
  );
  const blanked = picture?.blanked ?? null;
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    if (!blanked) return setUrl(null);
    const made = URL.createObjectURL(blanked);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [blanked]);
  return url ? <img className="piece__picture" src={url} alt="" /> : <PieceDrawing {...carrier} />;
}
