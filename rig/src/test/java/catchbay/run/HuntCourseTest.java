package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.HuntCourse.Next;
import catchbay.run.HuntReading.Answer;

import org.junit.jupiter.api.Test;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** What comes next in a hunt, by head: the setup's bay measures from 1 to 30 US gal/min. */
final class HuntCourseTest {

    private static final Part PART =
            new Part(
                    "hunt",
                    1,
                    "A. Tester",
                    Optional.empty(),
                    Optional.empty(),
                    0,
                    Optional.empty(),
                    Volume.ZERO,
                    Optional.empty());

    private final List<HuntReading> readings = new ArrayList<>();

    private static FlowRate gallons(double perMinute) {
        return FlowRate.perMinute(perMinute, VolumeUnit.US_GALLON);
    }

    /** The usual flow is 5 US gal/min. */
    private static HuntSetup setup(RangeEnd end, boolean lowering) {
        return HuntSetup.of(end, new Setups().build(), HuntRules.USUAL, lowering, PART);
    }

    private void reads(boolean rising, double asked, double flowed, Answer answer) {
        readings.add(
                new HuntReading(
                        readings.size() + 1,
                        rising,
                        gallons(asked),
                        Optional.of(new MeasuredFlow(gallons(flowed), new Ratio(0.01))),
                        answer,
                        Optional.empty(),
                        30_000_000_000L,
                        Optional.empty(),
                        Optional.empty()));
    }

    private void rises(double asked, Answer answer) {
        reads(true, asked, asked, answer);
    }

    private void asks(HuntSetup setup, double flow, boolean rising) {
        Next.Step step =
                assertInstanceOf(
                        Next.Step.class, HuntCourse.after(setup, readings), readings::toString);
        assertEquals(flow, step.flow().perMinute(VolumeUnit.US_GALLON), 1e-9);
        assertEquals(rising, step.rising());
    }

    private <R extends HuntResult> R over(HuntSetup setup, Class<R> kind) {
        Next.Over over = assertInstanceOf(Next.Over.class, HuntCourse.after(setup, readings));
        return assertInstanceOf(kind, over.result());
    }

    private static void same(double expected, MeasuredFlow flow) {
        assertEquals(expected, flow.rate().perMinute(VolumeUnit.US_GALLON), 1e-9);
    }

    @Test
    void theValveIsRaisedUntilTheMeterCountsTwice() {
        HuntSetup setup = setup(RangeEnd.LOW, false);
        asks(setup, 1, true);
        rises(1, Answer.SILENT);
        asks(setup, 1.25, true);
        rises(1.25, Answer.INTERMITTENT);
        asks(setup, 1.5625, true);
        rises(1.5625, Answer.COUNTING);
        asks(setup, 1.953125, true);
        rises(1.953125, Answer.COUNTING);
        HuntResult.LowEnd end = over(setup, HuntResult.LowEnd.class);
        same(1.5625, end.counting());
        same(1.25, end.silent().orElseThrow());
        assertEquals(1.25 * 0.99, end.least().perMinute(VolumeUnit.US_GALLON), 1e-9);
        assertEquals(1.5625 * 1.01, end.most().perMinute(VolumeUnit.US_GALLON), 1e-9);
        assertEquals(Optional.empty(), end.dropOut());
    }

    @Test
    void aLuckyStepIsNoEnd() {
        HuntSetup setup = setup(RangeEnd.LOW, false);
        rises(1, Answer.COUNTING);
        rises(1.25, Answer.SILENT);
        rises(1.6, Answer.COUNTING);
        rises(2, Answer.COUNTING);
        HuntResult.LowEnd end = over(setup, HuntResult.LowEnd.class);
        same(1.6, end.counting());
        same(1.25, end.silent().orElseThrow());
    }

    /** A hand that opened further than it was asked to is not sent back. */
    @Test
    void theNextStepLiesAboveWhatFlowed() {
        HuntSetup setup = setup(RangeEnd.LOW, false);
        reads(true, 1, 1.6, Answer.SILENT);
        asks(setup, 2, true);
        reads(true, 2, 1.9, Answer.SILENT);
        asks(setup, 2.5, true);
        reads(true, 2.5, 4.5, Answer.SILENT);
        asks(setup, 5, true);
        rises(5, Answer.COUNTING);
        HuntResult.NotFound none = over(setup, HuntResult.NotFound.class);
        assertTrue(none.reason().contains("did not count steadily"), none::reason);
    }

    @Test
    void withFallingFlowItGoesOnUntilTheMeterCeasesOrItsSmallestFlow() {
        HuntSetup setup = setup(RangeEnd.LOW, true);
        rises(2, Answer.SILENT);
        rises(2.5, Answer.COUNTING);
        rises(3.125, Answer.COUNTING);
        asks(setup, 2.5, false);
        reads(false, 2.5, 2.5, Answer.COUNTING);
        asks(setup, 2, false);
        reads(false, 2, 2, Answer.COUNTING);
        asks(setup, 1.6, false);
        reads(false, 1.6, 1.6, Answer.SILENT);
        asks(setup, 1.28, false);
        reads(false, 1.28, 1.28, Answer.SILENT);
        HuntResult.DropOut down = over(setup, HuntResult.LowEnd.class).dropOut().orElseThrow();
        same(2, down.counting());
        same(1.6, down.silent().orElseThrow());
    }

    @Test
    void aMeterThatCountsDownToTheSmallestFlowNeverCeases() {
        HuntSetup setup = setup(RangeEnd.LOW, true);
        rises(1, Answer.COUNTING);
        rises(1.25, Answer.COUNTING);
        asks(setup, 1, false);
        reads(false, 1, 1, Answer.COUNTING);
        HuntResult.LowEnd end = over(setup, HuntResult.LowEnd.class);
        assertEquals(Optional.empty(), end.silent());
        assertEquals(Optional.empty(), end.dropOut().orElseThrow().silent());
        same(1, end.dropOut().orElseThrow().counting());
    }

    @Test
    void threeStepsThatTellNothingEndIt() {
        HuntSetup setup = setup(RangeEnd.LOW, false);
        for (int i = 0; i < 3; i++) {
            assertInstanceOf(Next.Step.class, HuntCourse.after(setup, readings));
            readings.add(
                    new HuntReading(
                            i + 1,
                            true,
                            gallons(1 + i),
                            Optional.empty(),
                            Answer.UNTOLD,
                            Optional.empty(),
                            1,
                            Optional.empty(),
                            Optional.of("It cannot be measured.")));
        }
        String reason = over(setup, HuntResult.NotFound.class).reason();
        assertTrue(reason.contains("It cannot be measured"), reason);
    }

    @Test
    void moreIsAskedUntilItIsNotGiven() {
        HuntSetup setup = setup(RangeEnd.HIGH, false);
        asks(setup, 5, true);
        rises(5, Answer.FOLLOWS);
        asks(setup, 6.25, true);
        reads(true, 6.25, 6.1, Answer.FOLLOWS);
        reads(true, 7.8125, 6.5, Answer.FALLS_SHORT);
        HuntResult.HighEnd end = over(setup, HuntResult.HighEnd.class);
        same(6.1, end.followed());
        assertEquals(gallons(6.25), end.asked());
        assertEquals(gallons(7.8125), end.beyond().orElseThrow().asked());
        same(6.5, end.beyond().get().given().orElseThrow());
    }

    @Test
    void aTruckThatDoesNotEvenFollowTheFirstStepHasNoHighEnd() {
        HuntSetup setup = setup(RangeEnd.HIGH, false);
        reads(true, 5, 2, Answer.FALLS_SHORT);
        assertTrue(over(setup, HuntResult.NotFound.class).reason().contains("hunt.high_from"));
    }

    @Test
    void theLastStepIsTheLastFlow() {
        HuntSetup setup = setup(RangeEnd.HIGH, false);
        rises(28, Answer.FOLLOWS);
        asks(setup, 30, true);
        rises(30, Answer.FOLLOWS);
        assertEquals(Optional.empty(), over(setup, HuntResult.HighEnd.class).beyond());
    }

    /** Four fifths of what was asked for more: 1.25 of which 1.0 is just enough. */
    @Test
    void followingIsAShareOfTheIncrease() {
        HuntSetup setup = setup(RangeEnd.HIGH, false);
        rises(5, Answer.FOLLOWS);
        assertTrue(follows(setup, 6.25, 6.01));
        assertTrue(!follows(setup, 6.25, 5.99));
        readings.clear();
        assertTrue(follows(setup, 5, 4.01), "the first step: of the flow");
        assertTrue(!follows(setup, 5, 3.99));
    }

    private boolean follows(HuntSetup setup, double asked, double flowed) {
        return HuntCourse.follows(
                setup,
                readings,
                gallons(asked),
                new MeasuredFlow(gallons(flowed), new Ratio(0.003)));
    }
}
