/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Motifs of our own. The numbers beside their use in test_floats.c and test_catches.c were
 * worked out by hand and by a script of the designer's, before and apart from this program,
 * by common practice.
 */
#ifndef STRANDWISE_TEST_SMALL_CHARTS_WORKED_H
#define STRANDWISE_TEST_SMALL_CHARTS_WORKED_H

#include <string.h>

/* 12 x 14. The lone stitch sewn on afterwards is drawn as the cream under it. */
static const char *const chart_ripple_sock[] = {
    "............", ".....xxx....", "....xxxxx...", "...xx..xxx..", "...x....xxx.",
    ".........xx.", ".........xxx", "xx.......xxx", "xxx.....xxxx", "xxxx...xxxxx",
    "xxxxxxxxxxxx", ".x.x.x.x.x.x", "x.x.x.x.x.x.", "............",
};

/* 20 x 22. */
static const char *const chart_seed_head[] = {
    "....................", "......x.x.x.x.x.....", ".......xxxxxxx......", "........xxxxx.......",
    ".......xxxxxxx......", "......xxxxxxxxx.....", ".....xxxxxxxxxxx....", ".....xxxxxxxxxxx....",
    ".....xxxxxxxxxxx....", ".....xxxxxxxxxxx....", "......xxxxxxxxx.....", ".......xxxxxxx......",
    ".........xxx........", "..........x.........", "..........x.........", ".....xx...x...xx....",
    "......xx..x..xx.....", ".......xx.x.xx......", "........xxxxx.......", ".........xxx........",
    "..........x.........", "..........x.........",
};

/* 25 x 39, the lamp drawn as the night under it. */
static const char *const chart_lighthouse[] = {
    ".........................", ".........................", ".........................",
    "...........xxx...........", "..........xxxxx..........", ".........xxxxxxx.........",
    ".........x.....x.........", ".........x.....x.........", ".........x.....x.........",
    ".........xxxxxxx.........", "........xxxxxxxxx........", "..........xxxxx..........",
    "..........xxxxx..........", "..........xxxxx..........", "..........x...x..........",
    ".........x.....x.........", ".........x.....x.........", ".........xxxxxxx.........",
    ".........xxxxxxx.........", "........xxxxxxxxx........", "........xxxxxxxxx........",
    "........x.......x........", "........x.......x........", "........x.......x........",
    ".......xxxxxxxxxxx.......", ".......xxxxxxxxxxx.......", ".......xxxxxxxxxxx.......",
    ".......x.........x.......", "......x...........x......", "......x...........x......",
    "......xxxxxxxxxxxxx......", ".....xxxxxxxxxxxxxxx.....", "....xxxxxxxxxxxxxxxxx....",
    "...xxxxxxxxxxxxxxxxxxx...", "..xxxxx..xxxxxxx..xxxxx..", "x.....x.x.......x.x.....x",
    ".x...x...x.....x...x...x.", "..xxx.....xxxxx.....xxx..", ".........................",
};

/* Panel, stripe, palm one and one, stripe: set side by side round the hand, 56. */
static inline void lighthouse_rows(char text[39][57], const char *rows[39])
{
    for (int i = 0; i < 39; i++) {
        memcpy(text[i], chart_lighthouse[i], 25);
        memcpy(text[i] + 25, "x.x", 3);
        for (int c = 0; c < 25; c++)
            text[i][28 + c] = (c + i) % 2 ? '.' : 'x';
        memcpy(text[i] + 53, "x.x", 4);
        rows[i] = text[i];
    }
}

static const char *const chart_ripples[] = {
    "............", "..xx....xx..", ".xxxx..xxxx.", "xx..xxxx..xx", "x....xx....x", "............",
};

static const char *const chart_reeds[] = {
    "........", "...x....", "..xxx...", "..xxx...", "..xxx...", "...x....", "...x...x",
    "...x..xx", "...x.xx.", "...xxx..", "...xx...", "...x....", "........",
};

static const char *const chart_rain[] = {
    "....", ".x..", ".x..", "....", "...x", "...x", "....",
};

static const char *const chart_hearthstone[] = {
    "..................", "........xx........", ".......xxxx.......", "......xx..xx......",
    ".....xx.xx.xx.....", "....xx.xxxx.xx....", "...xx.xx..xx.xx...", "..xx.xx....xx.xx..",
    ".xx.xx..rr..xx.xx.", "xx.xx..rrrr..xx.xx", "x.xx..rrrrrr..xx.x", "xx.xx..rrrr..xx.xx",
    ".xx.xx..rr..xx.xx.", "..xx.xx....xx.xx..", "...xx.xx..xx.xx...", "....xx.xxxx.xx....",
    ".....xx.xx.xx.....", "......xx..xx......", ".......xxxx.......", "........xx........",
};

static const char *const chart_boats[] = {
    "................", "........x.......", ".......xx.......", "......xxx.x.....",
    ".....xxxx.xx....", "....xxxxx.xxx...", "...xxxxxx.xxxx..", ".........x......",
    "..xxxxxxxxxxxxx.", "...xxxxxxxxxxx..", "....xxxxxxxxx...", "................",
    "xx..xx..xx..xx..", "..xx..xx..xx..xx",
};

#endif
