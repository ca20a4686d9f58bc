package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Ratio;
import catchbay.quantity.VolumeUnit;
import catchbay.record.HuntText.Done;
import catchbay.record.HuntText.Head;
import catchbay.record.HuntText.Kept;
import catchbay.run.HuntEnd;
import catchbay.run.HuntResult;
import catchbay.run.MeasuredFlow;
import catchbay.run.RangeEnd;

import org.junit.jupiter.api.Test;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/** The last line of a hunt's file says what the hunt found, and nothing else is read as that. */
final class HuntTextTest {

    private static Head head(RangeEnd end) {
        return new Head(
                "20260105-080000-" + end.key(),
                end,
                TraceLine.Origin.SIMULATED,
                "Test bay",
                "T-12",
                LocalDate.of(2026, 1, 5),
                Optional.of("A. Tester"));
    }

    private static FlowRate gallons(double perMinute) {
        return FlowRate.perMinute(perMinute, VolumeUnit.US_GALLON);
    }

    private static MeasuredFlow measured(double perMinute) {
        return new MeasuredFlow(gallons(perMinute), Ratio.ofPercent(0.25));
    }

    private static String line(RangeEnd end, HuntEnd what) {
        return HuntText.of(new Done(head(end), what, List.of()));
    }

    private static void comesBack(RangeEnd end, HuntResult result) {
        String line = line(end, new HuntEnd.Reached(result));
        assertEquals(Optional.of(new Kept(head(end), result)), HuntText.read(line), line);
    }

    @Test
    void whatWasFoundComesBack() {
        comesBack(
                RangeEnd.LOW,
                new HuntResult.LowEnd(
                        Optional.of(measured(2)),
                        measured(2.5),
                        Optional.of(
                                new HuntResult.DropOut(
                                        measured(2.25), Optional.of(measured(1.5))))));
        comesBack(
                RangeEnd.LOW,
                new HuntResult.LowEnd(Optional.empty(), measured(2.5), Optional.empty()));
        comesBack(
                RangeEnd.HIGH,
                new HuntResult.HighEnd(
                        measured(20),
                        gallons(20.5),
                        Optional.of(
                                new HuntResult.Beyond(gallons(25), Optional.of(measured(22))))));
        comesBack(
                RangeEnd.HIGH,
                new HuntResult.HighEnd(measured(20), gallons(20.5), Optional.empty()));
        comesBack(RangeEnd.LOW, new HuntResult.NotFound("No."));
    }

    /** Nothing is kept under the name that it was to have. */
    @Test
    void aHuntThatWasNotBegunHasNoName() {
        String line = line(RangeEnd.LOW, new HuntEnd.NotBegun("Not begun: nobody answered."));
        assertFalse(line.contains("\"hunt\":"), line);
        assertTrue(line.contains("\"ended\":\"Not begun: nobody answered.\""), line);
    }

    @Test
    void nothingElseIsAResult() {
        List<String> none =
                List.of(
                        line(RangeEnd.HIGH, new HuntEnd.BrokenOff("The emergency stop.")),
                        HuntText.confirmed("A. Tester", Optional.empty(), List.of("Caution.")),
                        "{\"catchbay_hunt\":2,\"found\":true}",
                        "{\"catchbay_hunt\":1,\"found\":true,\"hunt\":\"x\"}",
                        "{\"catchbay_hunt\":1,\"fou",
                        "",
                        "[]");
        for (String line : none) {
            assertEquals(Optional.empty(), HuntText.read(line), line);
        }
    }
}
