/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <CUnit/Basic.h>
#include <math.h>
#include <stdlib.h>

#include "base/shade.h"
#include "csv.h"

extern CU_TestInfo tests_shade[];

static double contrast(unsigned from, unsigned to)
{
    unsigned char a[3] = {(unsigned char)(from >> 16), (unsigned char)(from >> 8),
                          (unsigned char)from};
    unsigned char b[3] = {(unsigned char)(to >> 16), (unsigned char)(to >> 8), (unsigned char)to};

    return shade_contrast(shade_luminance(a), shade_luminance(b));
}

/* Source: W3C, Web Content Accessibility Guidelines 2.x, contrast ratio; pairs as commonly
 * printed beside it. */
static void contrast_published(void)
{
    CU_ASSERT_DOUBLE_EQUAL(contrast(0x000000, 0xffffff), 21, 1e-9);
    CU_ASSERT_DOUBLE_EQUAL(contrast(0x767676, 0xffffff), 4.54, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(contrast(0x777777, 0xffffff), 4.478, 0.0005);
    CU_ASSERT_DOUBLE_EQUAL(contrast(0xffff00, 0xffffff), 1.07, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(contrast(0xaaaaaa, 0xffffff), 2.32, 0.005);
    CU_ASSERT_DOUBLE_EQUAL(contrast(0xffffff, 0x777777), contrast(0x777777, 0xffffff), 0);
}

/* Source: the formula's own coefficients (W3C): each full channel alone. */
static void luminance_of_channels(void)
{
    CU_ASSERT_DOUBLE_EQUAL(shade_luminance((const unsigned char[]){255, 0, 0}), 0.2126, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(shade_luminance((const unsigned char[]){0, 255, 0}), 0.7152, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(shade_luminance((const unsigned char[]){0, 0, 255}), 0.0722, 1e-12);
    /* 10 / 255 is below the bend: a straight line, by hand 0.0392157 / 12.92. */
    CU_ASSERT_DOUBLE_EQUAL(shade_luminance((const unsigned char[]){10, 10, 10}), 0.003035270, 1e-8);
}

/* L*, a*, b* (D65) of the sRGB corners, from memory: as printed in colour handbooks, to 0.1. */
static void lab_of_corners(void)
{
    static const struct {
        unsigned char rgb[3];
        double lab[3];
    } corners[] = {
        {{255, 0, 0}, {53.24, 80.09, 67.20}},    {{0, 255, 0}, {87.73, -86.18, 83.18}},
        {{0, 0, 255}, {32.30, 79.19, -107.86}},  {{255, 255, 0}, {97.14, -21.55, 94.48}},
        {{255, 0, 255}, {60.32, 98.23, -60.82}}, {{0, 255, 255}, {91.11, -48.09, -14.13}},
    };

    for (size_t i = 0; i < sizeof corners / sizeof *corners; i++) {
        double lab[3];

        shade_lab(corners[i].rgb, lab);
        for (int j = 0; j < 3; j++)
            CU_ASSERT_DOUBLE_EQUAL(lab[j], corners[i].lab[j], 0.1);
    }
}

/* By definition: greys have no hue, white is 100, black 0; L* 50 lies at luminance 0.184187. */
static void lab_of_greys(void)
{
    double lab[3], last = -1;

    for (int g = 0; g < 256; g++) {
        unsigned char rgb[3] = {(unsigned char)g, (unsigned char)g, (unsigned char)g};

        shade_lab(rgb, lab);
        CU_ASSERT(fabs(lab[1]) < 1e-9 && fabs(lab[2]) < 1e-9);
        CU_ASSERT(lab[0] > last);
        CU_ASSERT((shade_luminance(rgb) > 0.184187) == (lab[0] > 50));
        last = lab[0];
        if (g == 0)
            CU_ASSERT_DOUBLE_EQUAL(lab[0], 0, 1e-9);
    }
    CU_ASSERT_DOUBLE_EQUAL(last, 100, 1e-9);
}

/* Source: in the head of the file: the 34 pairs of the paper, to its four decimals. */
static void difference_published(void)
{
    struct csv csv;
    int pairs = 0;

    CU_ASSERT_FATAL(csv_open(&csv, "tests/data/ciede2000_pairs.csv"));
    while (csv_next(&csv)) {
        double v[7];

        CU_ASSERT_FATAL(csv.nfields == 7);
        for (int i = 0; i < 7; i++)
            v[i] = strtod(csv.field[i], NULL);
        CU_ASSERT_DOUBLE_EQUAL(shade_difference(v, v + 3), v[6], 0.0001);
        CU_ASSERT_DOUBLE_EQUAL(shade_difference(v + 3, v), v[6], 0.0001);
        CU_ASSERT_DOUBLE_EQUAL(shade_difference(v, v), 0, 1e-12);
        pairs++;
    }
    CU_ASSERT_EQUAL(pairs, 34);
}

CU_TestInfo tests_shade[] = {
    {"contrast ratios printed beside WCAG 2", contrast_published},
    {"luminance of single channels", luminance_of_channels},
    {"L*a*b* of the corners of sRGB", lab_of_corners},
    {"L*a*b* of greys", lab_of_greys},
    {"the 34 pairs of Sharma, Wu and Dalal 2005", difference_published},
    CU_TEST_INFO_NULL,
};
