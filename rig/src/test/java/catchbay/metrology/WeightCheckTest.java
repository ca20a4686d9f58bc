package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.WeightCheck.Answer;
import catchbay.metrology.WeightCheck.Limit;
import catchbay.metrology.WeightCheck.Load;
import catchbay.metrology.WeightCheck.Reading;
import catchbay.quantity.Density;
import catchbay.quantity.Mass;
import catchbay.quantity.Ratio;

import org.junit.jupiter.api.Test;

import java.util.List;

/**
 * A scale against weights and its hose, by sums that can be done by head (JCGM 100:2008, 4.3.7).
 */
final class WeightCheckTest {

    private static final Reading READING = new Reading(kg(0.02), kg(0));
    private static final Density STEEL = new Density(8000);
    private static final Density AIR = new Density(1.2);
    private static final Limit LIMIT = new Limit(kg(0.02), Ratio.ofPercent(0.1));

    private static Mass kg(double kilograms) {
        return new Mass(kilograms);
    }

    private static Load load(double kilograms, double expanded) {
        return new Load(kilograms + " kg", kg(kilograms), kg(expanded), STEEL);
    }

    private static WeightCheck check(double before, double shown, double after, Load load) {
        return WeightCheck.of(
                kg(before), List.of(load), List.of(kg(shown)), kg(after), READING, LIMIT, AIR);
    }

    /** 20.06 - 0.04 is 20.02, 0.02 too much, where 0.02 + 0.1 % of 20 = 0.04 is allowed. */
    @Test
    void anErrorIsShownLessTrue() {
        WeightCheck check = check(0.04, 20.06, 0.04, load(20, 0.004));
        WeightCheck.Point point = check.points().getFirst();
        assertEquals(20.02, point.shown().kilograms(), 1e-12);
        assertEquals(0.02, point.error().value(), 1e-12);
        assertEquals(0.04, point.limit().kilograms(), 1e-12);
        // Two half steps evenly: 0.01 / sqrt 3 each, and the weight's 0.004 / 2.
        assertEquals(Math.sqrt(2 * 1e-4 / 3 + 4e-6), point.error().standard(), 1e-9);
        assertEquals(Answer.PASSES, check.answer());
    }

    @Test
    void aSpanThatIsOffFails() {
        assertEquals(Answer.FAILS, check(0, 20.06, 0, load(20, 0.004)).answer());
        assertEquals(
                Answer.PASSES,
                check(0, 20.04, 0, load(20, 0.004)).answer(),
                "the limit itself is allowed");
        assertEquals(
                Answer.FAILS,
                check(0, 19.94, 0, load(20, 0.004)).answer(),
                "too little as much as too much");
    }

    /** The zero wanders by 0.06 from first to last; half way, at the one load, it had 0.03. */
    @Test
    void aZeroThatWandersIsTakenOutAndDoubted() {
        WeightCheck check = check(0, 20.03, 0.03, load(20, 0));
        assertEquals(20.015, check.points().getFirst().shown().kilograms(), 1e-12);
        assertEquals(
                Math.sqrt(2 * 1e-4 / 3 + 0.015 * 0.015 / 3),
                check.points().getFirst().error().standard(),
                1e-9);
        assertEquals(0.03, check.zeroReturn().kilograms(), 1e-12);
        assertTrue(check.zeroReturns(), "a step and the limit's base are allowed");
        assertFalse(check(0, 20.03, 0.05, load(20, 0)).zeroReturns());
        assertEquals(Answer.FAILS, check(0, 20.03, 0.05, load(20, 0)).answer());
    }

    /**
     * A weight known to 0.2 kg cannot judge a scale that may be off by 0.04, but for one that is
     * off by more than both.
     */
    @Test
    void aCoarseWeightTellsNothing() {
        assertEquals(Answer.CANNOT_TELL, check(0, 20, 0, load(20, 0.2)).answer());
        assertEquals(Answer.CANNOT_TELL, check(0, 20.2, 0, load(20, 0.2)).answer());
        assertEquals(Answer.FAILS, check(0, 20.3, 0, load(20, 0.2)).answer());
    }

    @Test
    void whatFailsIsNotHiddenByWhatCannotTell() {
        WeightCheck check =
                WeightCheck.of(
                        kg(0),
                        List.of(load(10, 0.2), load(20, 0.004)),
                        List.of(kg(10), kg(20.06)),
                        kg(0),
                        READING,
                        LIMIT,
                        AIR);
        assertEquals(Answer.CANNOT_TELL, check.points().getFirst().answer());
        assertEquals(Answer.FAILS, check.answer());
    }

    @Test
    void weightsTogetherAddTheirUncertainties() {
        Load both = Load.together("both", List.of(load(5, 0.001), load(10, 0.002)));
        assertEquals(15, both.mass().kilograms(), 1e-12);
        assertEquals(0.003, both.expanded().kilograms(), 1e-12);
        assertEquals(8000, both.density().kilogramsPerCubicMetre(), 1e-9);
    }

    private static double due(Load load, double air) {
        return WeightCheck.of(
                        kg(0),
                        List.of(load),
                        List.of(kg(20)),
                        kg(0),
                        READING,
                        LIMIT,
                        new Density(air))
                .points()
                .getFirst()
                .due()
                .kilograms();
    }

    /**
     * Air of 1.0 kg/m3 instead of 1.2 buoys less whatever is lighter than 8000 kg/m3: by 0.2 (1 /
     * density - 1 / 8000) of its mass, the first order of the definition of conventional mass (OIML
     * D 28 and R 111-1:2004, from memory).
     */
    @Test
    void thinAirShowsLightStuffHeavier() {
        assertEquals(20, due(load(20, 0), 1.0), 1e-12, "8000 kg/m3 shows the same in any air");
        for (double density : new double[] {7100, 2400, 1000}) {
            Load light = new Load("light", kg(20), kg(0), new Density(density));
            double more = 20 * 0.2 * (1 / density - 1 / 8000.0);
            assertEquals(20 + more, due(light, 1.0), 0.002 * more, density + " kg/m3");
            assertEquals(20, due(light, 1.2), 1e-9, "as conventional mass is defined");
        }
    }

    /** Iron and concrete on the scale at once show what they show apart. */
    @Test
    void weightsOfTwoKindsTogetherAreBuoyedAsTheyAreApart() {
        Load iron = new Load("iron", kg(10), kg(0), new Density(7100));
        Load concrete = new Load("concrete", kg(25), kg(0), new Density(2400));
        Load both = Load.together("both", List.of(iron, concrete));
        assertEquals(35, both.mass().kilograms(), 1e-12);
        assertEquals(due(iron, 1.0) + due(concrete, 1.0), due(both, 1.0), 1e-9);
    }

    /** 10 and 30 kg going up, 10 kg going down again with 0.04 more. */
    @Test
    void whatComesDownIsHeldAgainstWhatWentUp() {
        Load ten = load(10, 0);
        WeightCheck upAndDown =
                WeightCheck.of(
                        kg(0),
                        List.of(ten, load(30, 0), ten),
                        List.of(kg(10.01), kg(30), kg(10.05)),
                        kg(0),
                        READING,
                        LIMIT,
                        AIR);
        assertEquals(0.04, upAndDown.hysteresis().orElseThrow().kilograms(), 1e-12);
        assertEquals(30, upAndDown.heaviest().kilograms(), 0);
        assertEquals(Answer.FAILS, upAndDown.answer(), "0.05 where 0.03 are allowed");
        assertTrue(check(0, 20, 0, load(20, 0)).hysteresis().isEmpty());
    }

    @Test
    void badWeightsAreRefused() {
        for (double[] bad : new double[][] {{0, 0}, {-1, 0}, {5, -0.1}}) {
            assertThrows(IllegalArgumentException.class, () -> load(bad[0], bad[1]));
        }
        assertThrows(
                IllegalArgumentException.class,
                () -> WeightCheck.of(kg(0), List.of(), List.of(), kg(0), READING, LIMIT, AIR));
    }

    /**
     * Off, on, off again while the zero drifts evenly by 0.03 a reading: 0.05 of hose are found.
     */
    @Test
    void anEvenDriftCancelsInAShuntTest() {
        ShuntTest test = ShuntTest.of(kg(100), kg(100.08), kg(100.06), READING, kg(0.2));
        assertEquals(0.05, test.difference().value(), 1e-9);
        // Half steps of 0.01: 1 + 1/4 + 1/4 of 1e-4/3; the drift's 0.03 evenly.
        assertEquals(Math.sqrt(1.5e-4 / 3 + 0.03 * 0.03 / 3), test.difference().standard(), 1e-9);
        assertEquals(0.05 + test.difference().expanded(), test.halfWidth().kilograms(), 1e-12);
        assertEquals(Answer.PASSES, test.answer());
        assertEquals(
                Answer.FAILS, ShuntTest.of(kg(100), kg(99.7), kg(100), READING, kg(0.2)).answer());
    }
}
