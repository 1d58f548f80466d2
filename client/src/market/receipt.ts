// Receipt: a sale as lines of text that can be shown or sent.

import { pieceOf, type Sale } from "./fold";
import { written } from "./money";
import type { Holds } from "./types";

export function receipt(holds: Holds, sale: Sale): string {
  const line = (piece: string, cents: number): string[] => {
    const one = pieceOf(holds, piece);
    return [`${one?.name ?? "A piece"}  ${written(cents, holds.money)}`, ...(one ? [`  ${one.words}`] : []), ...(sale.back.includes(piece) ? ["  given back"] : [])];
  };
  return [
    holds.yard,
    `Receipt, ${sale.on}${sale.buyer ? `, for ${sale.buyer}` : ""}`,
    "",
    ...sale.lines.flatMap((each) => line(each.piece, each.cents)),
    ...sale.taxes.map((tax) => `${tax.name}  ${written(tax.cents, holds.money)}`),
    `All of it  ${written(sale.total, holds.money)}`,
    sale.by === "owed" ? "Still to be paid." : `Paid by ${sale.by}.`,
    "",
    ...holds.mind,
  ].join("\n");
}

/** Another program of the phone that sends it: its own sharing where there is one, else a text message. */
export async function sendText(text: string): Promise<void> {
  if (typeof navigator.share === "function") {
    await navigator.share({ text }).catch(() => undefined); // somebody thought better of it
    return;
  }
  location.href = `sms:?&body=${encodeURIComponent(text)}`;
}
