package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.seeded.Seeds;

import org.hipparchus.stat.inference.OneWayAnova;
import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;

/**
 * JCGM 100:2008, H.5, a voltage standard over ten days of five readings. Daily means and deviations
 * of table H.9 as quoted in an open test suite of analysis of variance, with the published grand
 * mean, 57 uV, 85 uV and F = 2.25 (H.27); the guide's single readings are not printed, so five that
 * have the day's mean and deviation stand in.
 */
final class GumH5Test {

    private static final double[] MEANS_UV = {172, 116, 13, 144, 106, 31, 60, 125, 163, 41};
    private static final double[] DEVIATIONS_UV = {60, 77, 111, 101, 67, 93, 80, 73, 88, 86};

    private static List<double[]> days() {
        List<double[]> days = new ArrayList<>();
        // Mean 0 and experimental deviation 1.
        double[] pattern = {-2, -1, 0, 1, 2};
        for (int d = 0; d < MEANS_UV.length; d++) {
            double[] day = new double[pattern.length];
            for (int i = 0; i < day.length; i++) {
                day[i] = MEANS_UV[d] + DEVIATIONS_UV[d] * pattern[i] / Math.sqrt(2.5);
            }
            days.add(day);
        }
        return days;
    }

    /** Mean 10.000 097 V; s_b 85 uV; F = 5 x 57^2 / 85^2 = 2.25; u of the mean 57/sqrt(10) = 18. */
    @Test
    void publishedFigures() {
        BetweenDays days = BetweenDays.of(days());
        assertEquals(97, days.mean(), 0.5);
        assertEquals(85, days.withinDeviation(), 0.5);
        assertEquals(40, days.withinDegreesOfFreedom());
        assertEquals(2.25, days.ratio(), 0.02);
        assertEquals(18, days.meanStandard(), 0.5);
        assertEquals(57, days.meanStandard() * Math.sqrt(10), 0.5);
        // H.5.2.4: s_B^2 = s^2(means) - s_b^2 / 5, by the guide's rounded figures.
        assertEquals(Math.sqrt(57 * 57 - 85 * 85 / 5.0), days.betweenDeviation(), 1);
    }

    /** F 0.95 (9, 40) = 2.12 and F 0.975 (9, 40) = 2.45: significant at 5 %, not at 2.5 %. */
    @Test
    void criticalRatios() {
        BetweenDays days = BetweenDays.of(days());
        assertEquals(2.12, days.ratioCritical(), 0.005);
        assertTrue(days.significant());
        assertEquals(2.45, BetweenDays.critical(0.975, 9, 40), 0.005);
    }

    /** Days of different sizes: F as by Hipparchus's one-way analysis. */
    @Test
    void ratioAgreesWithHipparchus() {
        Seeds.forSeeds(
                300,
                random -> {
                    List<double[]> days = new ArrayList<>();
                    int count = random.nextInt(2, 8);
                    for (int d = 0; d < count; d++) {
                        double level = random.nextGaussian();
                        days.add(
                                random.doubles(random.nextInt(2, 7), level - 2, level + 2)
                                        .toArray());
                    }
                    BetweenDays analysis = BetweenDays.of(days);
                    double expected = new OneWayAnova().anovaFValue(days);
                    assertEquals(expected, analysis.ratio(), 1e-10 * (1 + expected));
                    double probability = new OneWayAnova().anovaPValue(days);
                    assertEquals(probability < 0.05, analysis.significant());
                });
    }

    /**
     * Known truth: day part 3, run part 2, days of 1 to 4 runs. Over many sets the estimates of the
     * two variances average to 9 (a little more, since none is below 0) and 4, and the stated
     * variance of the mean to the one it has.
     */
    @Test
    void findsTheTwoPartsItWasMadeFrom() {
        int sets = 4_000;
        double[] sums = new double[4];
        Seeds.forSeeds(
                sets,
                random -> {
                    List<double[]> days = new ArrayList<>();
                    for (int d = 0; d < 12; d++) {
                        double level = 3 * random.nextGaussian();
                        double[] day = new double[1 + d % 4];
                        for (int i = 0; i < day.length; i++) {
                            day[i] = level + 2 * random.nextGaussian();
                        }
                        days.add(day);
                    }
                    BetweenDays analysis = BetweenDays.of(days);
                    sums[0] += Math.pow(analysis.betweenDeviation(), 2) / sets;
                    sums[1] += Math.pow(analysis.withinDeviation(), 2) / sets;
                    sums[2] += Math.pow(analysis.meanStandard(), 2) / sets;
                    sums[3] += Math.pow(analysis.mean(), 2) / sets;
                });
        // Each average is within 4 of its own deviations, taken from the spread of such estimates.
        assertEquals(9, sums[0], 0.3);
        assertEquals(4, sums[1], 0.1);
        assertEquals(sums[3], sums[2], 4 * sums[3] * Math.sqrt(2.0 / sets));
    }

    /**
     * By hand. (0, 2), (10, 12), (20, 22): B = 200, W = 2, so the day's part is 198/2 with 198^2 /
     * (200^2/2 + 2^2/3) degrees of freedom. (1, 3), (8): B = 24, W = 2, n0 = 3 - 5/3.
     */
    @Test
    void workedByHand() {
        BetweenDays even =
                BetweenDays.of(
                        List.of(new double[] {0, 2}, new double[] {10, 12}, new double[] {20, 22}));
        assertEquals(100, even.ratio(), 1e-12);
        assertEquals(Math.sqrt(99), even.betweenDeviation(), 1e-13);
        assertEquals(198.0 * 198 / (20_000 + 4 / 3.0), even.betweenDegreesOfFreedom(), 1e-12);
        BetweenDays uneven = BetweenDays.of(List.of(new double[] {1, 3}, new double[] {8}));
        assertEquals(4, uneven.mean(), 1e-15);
        assertEquals(Math.sqrt(22 / (4 / 3.0)), uneven.betweenDeviation(), 1e-13);
        assertEquals(Math.sqrt(16.5 * 5 / 9 + 2 / 3.0), uneven.meanStandard(), 1e-13);
    }

    @Test
    void daysThatAreAlikeHaveNoPartOfTheirOwn() {
        BetweenDays days =
                BetweenDays.of(List.of(new double[] {1, 3}, new double[] {3, 1}, new double[] {2}));
        assertEquals(0, days.betweenDeviation());
        assertEquals(1, days.betweenDegreesOfFreedom());
        assertFalse(days.significant());
        assertEquals(Math.sqrt(2.0 / 5), days.meanStandard(), 1e-14);
    }

    @Test
    void tooLittleIsRefused() {
        assertRefused("got 1 days with 3 runs", List.of(new double[] {1, 2, 3}));
        assertRefused("got 0 days", List.of());
        assertRefused("2 days with 2 runs", List.of(new double[] {1}, new double[] {2}));
        assertRefused("no reading", List.of(new double[] {1, 2}, new double[0]));
        assertRefused(
                "all runs of each day are identical",
                List.of(new double[] {1, 1}, new double[] {2, 2}));
        assertRefused("must be finite", List.of(new double[] {1, 2}, new double[] {Double.NaN, 2}));
    }

    private static void assertRefused(String part, List<double[]> days) {
        String text =
                assertThrows(IllegalArgumentException.class, () -> BetweenDays.of(days))
                        .getMessage();
        assertTrue(text.contains(part), text);
    }
}
