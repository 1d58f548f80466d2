// Money: whole cents as they are typed and written; tax lines by the rule that the shop typed. waney.trade.tax rounds the same way.

import type { TaxRule } from "./types";

const TYPED = /^(\d{1,9})(?:[.,](\d{1,2}))?$/;

/** Cents of what was typed, with a point or a comma before at most two figures; null for what is no amount. */
export function cents(typed: string): number | null {
  const found = TYPED.exec(typed.trim());
  return found ? Number(found[1]) * 100 + Number((found[2] ?? "").padEnd(2, "0")) : null;
}

/** An amount as the shop writes it; words: `{}` in the place of the figure. */
export function written(amount: number, words: string): string {
  const size = Math.abs(amount);
  const figure = `${Math.floor(size / 100)}.${String(size % 100).padStart(2, "0")}`;
  return `${amount < 0 ? "-" : ""}${words.replace("{}", figure)}`;
}

function rounded(amount: number, rule: TaxRule): number {
  const [product, under] = [BigInt(amount) * BigInt(rule.over), BigInt(rule.under)];
  const [whole, left] = [product / under, product % under];
  const up: Record<TaxRule["rounding"], boolean> = {
    up: left > 0n,
    down: false,
    "half up": 2n * left >= under,
    "half to even": 2n * left > under || (2n * left === under && whole % 2n === 1n),
  };
  return Number(whole) + (up[rule.rounding] ? 1 : 0);
}

/** What a tax comes to on the prices of a sale. */
export function taxed(prices: number[], rule: TaxRule): number {
  const on = rule.each_line ? prices : [prices.reduce((sum, one) => sum + one, 0)];
  return on.reduce((sum, one) => sum + rounded(one, rule), 0);
}
