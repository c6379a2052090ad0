/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The words for each round, as the report takes them in and as they stand alone.
 */
#ifndef STRANDWISE_DIRECTIONS_H
#define STRANDWISE_DIRECTIONS_H

#include "plan/catches/rows.h"
#include "words/words.h"

/* How to read them, then every band: its rounds, and what is sewn on afterwards. */
void directions_add(const struct page *page);

/* What is sewn on after washing, row by row; nothing if there is none. limit: lines at most,
 * 0: all. Returned: lines left out. */
int directions_add_sewn(const struct page *page, const struct plan_band *band, int limit);

/* A row in words, all but its number: " (cream, slate): *3 slate, 9 cream; from * 7 times in all
 * (84)." `text` is emptied first; two rows alike in words are given once. */
void directions_word_row(const struct page *page, const struct plan_row *row, struct text *text);

#endif
