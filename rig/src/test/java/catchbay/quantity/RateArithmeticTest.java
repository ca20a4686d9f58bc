package catchbay.quantity;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.seeded.Seeds;

import org.junit.jupiter.api.Test;

/**
 * What a truck is asked to put down. The gallons per minute are identities of the units (rate x mph
 * x lanes / 60); the catches of 90 s are common practice, no source.
 */
final class RateArithmeticTest {

    private static final double SECOND = 1e9;
    private static final double CLOSE = 1e-12;

    private static double direct(double rate, double lanes, double mph, double seconds) {
        return LiquidPerLane.ofUsGallonsPerLaneMile(rate)
                .over(Speed.ofMilesPerHour(mph).during(seconds * SECOND), lanes)
                .usGallons();
    }

    private static double preWet(double rate, SaltPerDistance salt, double mph, double seconds) {
        return LiquidPerSalt.ofUsGallonsPerTon(rate)
                .on(salt.over(Speed.ofMilesPerHour(mph).during(seconds * SECOND)))
                .usGallons();
    }

    /** Identity gal/min = gal/lane-mile x mph x lanes / 60. */
    @Test
    void gallonsPerMinuteOfADirectApplication() {
        assertEquals(15.0, direct(30, 1, 30, 60), 15 * CLOSE);
        assertEquals(70.0, direct(40, 3, 35, 60), 70 * CLOSE);
    }

    /** Identity gal/min = lb/lane-mile x mph x lanes / 60 / 2000 x gal/ton. */
    @Test
    void gallonsPerMinuteOfPreWetting() {
        assertEquals(0.625, preWet(10, SaltPerDistance.ofPoundsPerLaneMile(300, 1), 25, 60), CLOSE);
    }

    /** Common practice, no source. */
    @Test
    void catchesOfNinetySeconds() {
        assertEquals(7.5, direct(15, 1, 20, 90), 7.5 * CLOSE);
        assertEquals(5.0, preWet(10, SaltPerDistance.ofTonsPerMile(1), 20, 90), 5 * CLOSE);
        assertEquals(0.5, Speed.ofMilesPerHour(20).during(90 * SECOND).miles(), CLOSE);
        assertEquals(1.0, Speed.ofMilesPerHour(20).during(180 * SECOND).miles(), CLOSE);
    }

    @Test
    void aRateIsReadBackAsItWasGiven() {
        assertEquals(15, LiquidPerLane.ofUsGallonsPerLaneMile(15).usGallonsPerLaneMile(), CLOSE);
        assertEquals(8, LiquidPerSalt.ofUsGallonsPerTon(8).usGallonsPerTon(), CLOSE);
        SaltPerDistance salt = SaltPerDistance.ofPoundsPerLaneMile(300, 2);
        assertEquals(600, salt.poundsPerMile(), 600 * CLOSE);
    }

    @Test
    void theIdentitiesHoldForAnyRate() {
        Seeds.forSeeds(
                1_000,
                random -> {
                    double rate = random.nextDouble(1, 100);
                    double mph = random.nextDouble(1, 60);
                    int lanes = random.nextInt(1, 5);
                    double perMinute = rate * mph * lanes / 60;
                    assertEquals(perMinute, direct(rate, lanes, mph, 60), perMinute * CLOSE);
                    double pounds = random.nextDouble(50, 800);
                    double wet = pounds * mph * lanes / 60 / 2000 * rate;
                    assertEquals(
                            wet,
                            preWet(
                                    rate,
                                    SaltPerDistance.ofPoundsPerLaneMile(pounds, lanes),
                                    mph,
                                    60),
                            wet * CLOSE);
                });
    }
}
