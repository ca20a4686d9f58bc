package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.ConstantFit.Leftover;
import catchbay.metrology.FlowMix.Duty;
import catchbay.metrology.FlowMix.Fit;
import catchbay.seeded.Seeds;

import org.hipparchus.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;

/** The best single constant: against Hipparchus, against trying every number, and by hand. */
final class ConstantFitTest {

    private static Duty duty(double flow, double weight) {
        return new Duty(flow + " US gal/min", Trucks.flow(flow), weight);
    }

    private static final List<TruckConstant> FORMS =
            List.of(Trucks.PULSES, Trucks.VOLUME, Trucks.PERCENT);

    private static TruckCurve drawnCurve(TruckConstant constant, RandomGenerator random) {
        double[][] points = new double[3 + random.nextInt(5)][];
        for (int i = 0; i < points.length; i++) {
            points[i] =
                    new double[] {
                        5 * (i + 1), constant.value() * (0.9 + 0.2 * random.nextDouble())
                    };
        }
        return Trucks.curve(constant, 0.001, 0.002, points);
    }

    private static FlowMix drawnMix(Fit fit, TruckCurve curve, RandomGenerator random) {
        List<Duty> duties = new ArrayList<>();
        double span = 5 * (curve.stations().size() - 1);
        for (int i = 0; i < 2 + random.nextInt(6); i++) {
            duties.add(duty(5 + span * random.nextDouble(), 0.1 + random.nextDouble()));
        }
        return new FlowMix(fit, duties);
    }

    private static double right(TruckCurve curve, Duty duty) {
        return curve.at(duty.flow()).orElseThrow().number();
    }

    /**
     * The errors are a x - 1, so the least squares x is the slope of a line through the origin of
     * sqrt(w) over sqrt(w) a.
     */
    @Test
    void leastSquaresAgainstHipparchus() {
        Seeds.forSeeds(
                500,
                random -> {
                    TruckConstant constant = FORMS.get(random.nextInt(3));
                    TruckCurve curve = drawnCurve(constant, random);
                    FlowMix mix = drawnMix(Fit.LEAST_SQUARES, curve, random);
                    boolean perVolume = constant == Trucks.PULSES;
                    SimpleRegression line = new SimpleRegression(false);
                    for (Duty duty : mix.duties()) {
                        double root = Math.sqrt(duty.weight());
                        double a = perVolume ? right(curve, duty) : 1 / right(curve, duty);
                        line.addData(root * a, root);
                    }
                    double expected = perVolume ? 1 / line.getSlope() : line.getSlope();
                    assertEquals(expected, Trucks.fitted(curve, mix).unrounded(), 1e-10 * expected);
                });
    }

    private static double score(TruckCurve curve, FlowMix mix, double number) {
        double squares = 0;
        double most = 0;
        for (Duty duty : mix.duties()) {
            double error = curve.constant().errorWith(number, right(curve, duty)).value();
            squares += duty.weight() * error * error;
            most = Math.max(most, Math.abs(error));
        }
        return mix.fit() == Fit.MINIMAX ? most : squares;
    }

    /** Every number that can be entered is tried: none leaves less than the one named. */
    @Test
    void bothFitsAgainstTryingEveryNumber() {
        Seeds.forSeeds(
                150,
                random -> {
                    TruckConstant constant = FORMS.get(random.nextInt(3));
                    TruckCurve curve = drawnCurve(constant, random);
                    FlowMix mix = drawnMix(Fit.values()[random.nextInt(2)], curve, random);
                    double best = Double.POSITIVE_INFINITY;
                    for (long k = Math.round(0.85 * constant.value() / constant.step());
                            k * constant.step() < 1.15 * constant.value();
                            k++) {
                        best =
                                Math.min(
                                        best,
                                        score(curve, mix, constant.rounded(k * constant.step())));
                    }
                    double named = Trucks.fitted(curve, mix).best().value();
                    assertEquals(named, constant.rounded(named), 0, "it can be entered");
                    assertEquals(best, score(curve, mix, named), 1e-12);
                });
    }

    /** What a minimax constant leaves at the tested flows is the meter's linearity. */
    @Test
    void minimaxLeavesTheLinearity() {
        Seeds.forSeeds(
                200,
                random -> {
                    TruckConstant constant = FORMS.get(random.nextInt(3));
                    TruckCurve curve = drawnCurve(constant, random);
                    FlowMix all = new FlowMix(Fit.MINIMAX, List.of());
                    double number = Trucks.fitted(curve, all).unrounded();
                    double most =
                            all.over(curve).stream()
                                    .mapToDouble(d ->
                                            constant.errorWith(number, right(curve, d))
                                                    .magnitude()
                                                    .value())
                                    .max()
                                    .orElseThrow();
                    assertEquals(curve.linearity().halfWidth().value(), most, 1e-12);
                });
    }

    private static TruckCurve bent() {
        return Trucks.curve(
                Trucks.PULSES,
                0.001,
                0.002,
                new double[] {10, 570},
                new double[] {20, 600},
                new double[] {40, 606});
    }

    /**
     * By hand: duties at 10 (weight 1) and 40 (weight 3) need 570 and 606: (570^2 + 3 x 606^2) /
     * (570 + 3 x 606) = 597.407. Minimax: (570 + 606) / 2 = 588.
     */
    @Test
    void byHand() {
        List<Duty> duties = List.of(duty(10, 1), duty(40, 3));
        ConstantFit.Fitted squares = Trucks.fitted(bent(), new FlowMix(Fit.LEAST_SQUARES, duties));
        assertEquals(597.407, squares.unrounded(), 0.001);
        assertEquals(597.4, squares.best().value(), 0);
        ConstantFit.Fitted minimax = Trucks.fitted(bent(), new FlowMix(Fit.MINIMAX, duties));
        assertEquals(588, minimax.best().value(), 0);
        assertEquals(
                List.of(-5.0, -3.0612),
                List.of(
                        percent(minimax.leftovers().get(0), false),
                        percent(minimax.leftovers().get(0), true)));
        assertEquals(
                List.of(1.0, 3.0612),
                List.of(
                        percent(minimax.leftovers().get(1), false),
                        percent(minimax.leftovers().get(1), true)));
        assertEquals(597, minimax.mean().number(), 1e-9, "570 / 4 + 606 x 3 / 4");
    }

    private static double percent(Leftover leftover, boolean best) {
        ConstantFit.Errors errors = leftover.errors().orElseThrow();
        return Math.round((best ? errors.best() : errors.now()).percent() * 1e4) / 1e4;
    }

    /** For the two duties above a table of 10 and 40 leaves nothing; between them 582 at 20. */
    @Test
    void aTwoPointTable() {
        ConstantFit.Fitted two =
                Trucks.fitted(
                        bent(), new FlowMix(Fit.LEAST_SQUARES, List.of(duty(10, 1), duty(40, 3))));
        ConstantFit.Table table = two.table().orElseThrow();
        assertEquals(List.of(570.0, 606.0), List.of(table.lowNumber(), table.highNumber()));
        for (Leftover leftover : two.leftovers()) {
            assertEquals(0, leftover.errors().orElseThrow().table().orElseThrow().value(), 1e-12);
        }
        assertEquals(582, table.numberAt(Trucks.flow(20)), 1e-9);
        assertEquals(570, table.numberAt(Trucks.flow(5)), 0, "held below its lower point");
        assertEquals(606, table.numberAt(Trucks.flow(80)), 1e-9, "and above its upper one");

        // Of all pairs that of 10 and 20 leaves least over the three tested flows: 1 % at 40.
        ConstantFit.Fitted all = Trucks.fitted(bent(), FlowMix.EVEN);
        assertEquals(600, all.table().orElseThrow().highNumber(), 0);
        assertEquals(
                0.01,
                all.leftovers().getLast().errors().orElseThrow().table().orElseThrow().value(),
                1e-12);
    }

    @Test
    void workOutsideTheTestedFlowsHasNoSay() {
        List<Duty> duties = List.of(duty(2, 100), duty(20, 1));
        ConstantFit.Fitted fitted = Trucks.fitted(bent(), new FlowMix(Fit.LEAST_SQUARES, duties));
        assertEquals(600, fitted.best().value(), 0);
        assertTrue(fitted.leftovers().getFirst().errors().isEmpty());
        ConstantFit.NoneFits none =
                assertInstanceOf(
                        ConstantFit.NoneFits.class,
                        ConstantFit.of(bent(), new FlowMix(Fit.MINIMAX, List.of(duty(2, 1)))));
        assertEquals(
                "No work of the mix lies within the tested flows of 10.00 US gal/min to 40.00"
                        + " US gal/min; catch at the flows of the mix.",
                none.reason());
    }

    @Test
    void aConstantThatCannotBeEntered() {
        TruckConstant narrow =
                new TruckConstant(
                        TruckConstant.Form.PULSES_PER_VOLUME,
                        650,
                        Trucks.PULSES.unit(),
                        0.1,
                        640,
                        660,
                        java.util.Optional.empty());
        TruckCurve curve =
                Trucks.curve(
                        narrow,
                        0.001,
                        0.002,
                        new double[] {10, 600},
                        new double[] {20, 600},
                        new double[] {30, 600});
        assertEquals(
                new ConstantFit.NoneFits(
                        "The best constant, 600 pulses/US gal, cannot be entered (limits 640"
                                + " pulses/US gal to 660 pulses/US gal); check the meter, its"
                                + " liquid and its unit."),
                ConstantFit.of(curve, FlowMix.EVEN));
    }

    @Test
    void workThatIsNoneIsRefused() {
        for (double bad : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY}) {
            assertThrows(IllegalArgumentException.class, () -> duty(10, bad));
        }
        assertThrows(IllegalArgumentException.class, () -> duty(0, 1));
        assertThrows(IllegalArgumentException.class, () -> Fit.ofKey("best"));
        assertEquals(Fit.MINIMAX, Fit.ofKey("minimax"));
    }
}
