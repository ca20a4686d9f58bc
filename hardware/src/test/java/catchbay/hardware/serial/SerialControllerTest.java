package catchbay.hardware.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.port.PortKind;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunInput;
import catchbay.sim.device.LineFault;
import catchbay.sim.device.StandInController;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Predicate;

/**
 * The shipped serial code on a real pseudo-terminal, with a stand-in controller at the other end.
 */
@Timeout(60)
class SerialControllerTest {

    private static final String PATTERN = "TOTAL (?<total>[0-9.]+) (?<unit>.*)";

    private final AtomicReference<Volume> total = new AtomicReference<>(Volume.ofUsGallons(100.5));

    @TempDir private Path folder;

    @Test
    void theRunningTotalIsPickedOutOfItsLines() throws Exception {
        try (StandInController device =
                        new StandInController(StandInController.Setting.plain(50), total::get);
                SerialSource source =
                        SerialBench.open(
                                PortKind.CONTROLLER,
                                SerialBench.controller(device.path(), PATTERN))) {
            assertEquals(Volume.ofUsGallons(100.5), next(source));
            total.set(Volume.ofUsGallons(101.25));
            SerialBench.drain(source, 1, is(101.25));
            device.show(VolumeUnit.LITRE);
            SerialBench.drain(
                    source,
                    1,
                    SerialBench.UNDERSTOOD.and(
                            input -> Math.abs(total(input).litres() - 383.27) < 0.005));
        }
    }

    @Test
    void aLineJoinedLateCutOrGarbledGivesNoOtherTotal() throws Exception {
        try (StandInController device =
                        new StandInController(StandInController.Setting.plain(200), total::get);
                SerialSource source =
                        SerialBench.open(
                                PortKind.CONTROLLER,
                                SerialBench.controller(device.path(), PATTERN))) {
            device.fault(LineFault.FRAGMENT);
            assertEquals(Volume.ofUsGallons(100.5), next(source));
            device.fault(LineFault.GARBLE);
            List<RunInput> inputs = SerialBench.drain(source, 30, SerialBench.UNDERSTOOD);
            assertTrue(
                    inputs.stream()
                            .allMatch(input -> total(input).equals(Volume.ofUsGallons(100.5))),
                    inputs.toString());
            assertTrue(source.counts().framesRefused() > 10, source.counts().toString());
        }
    }

    @Test
    void aLineThatWentAwayAndCameBackIsReadOn() throws Exception {
        StandInController.Setting setting =
                StandInController.Setting.plain(50).linkedAt(folder.resolve("truck"));
        try (StandInController device = new StandInController(setting, total::get);
                SerialSource source =
                        SerialBench.open(
                                PortKind.CONTROLLER,
                                SerialBench.controller(device.path(), PATTERN))) {
            next(source);
            device.unplug();
            total.set(Volume.ofUsGallons(200));
            device.replug();
            SerialBench.drain(source, 1, is(200));
            assertEquals(1, source.counts().reconnects());
        }
    }

    /** Half of 111111 and a whole 222222 would make a total in the right form. */
    @Test
    void aLineCutByTheUnpluggingIsNotJoinedToTheNext() throws Exception {
        StandInController.Setting setting =
                new StandInController.Setting(
                        "{total}",
                        1_000_000,
                        VolumeUnit.LITRE,
                        0,
                        Optional.of(folder.resolve("truck")),
                        1);
        BenchSettings settings =
                SerialBench.controller(folder.resolve("truck"), "(?<total>[0-9]+)")
                        .with("unit", "litres");
        total.set(new Volume(111_111));
        try (StandInController device = new StandInController(setting, total::get);
                SerialSource source = SerialBench.open(PortKind.CONTROLLER, settings)) {
            device.fault(LineFault.FRAGMENT);
            for (int i = 1; i <= 5; i++) {
                device.unplug();
                total.set(new Volume(total.get().litres() == 111_111 ? 222_222 : 111_111));
                device.replug();
                int reconnects = i;
                SerialBench.await(
                        () -> source.counts().reconnects() == reconnects,
                        source.counts()::toString);
                for (RunInput input : SerialBench.drain(source, 5, SerialBench.UNDERSTOOD)) {
                    assertTrue(
                            List.of(111_111.0, 222_222.0).contains(total(input).litres()),
                            input.toString());
                }
            }
        }
    }

    private static Volume next(SerialSource source) throws Exception {
        return total(SerialBench.drain(source, 1, SerialBench.UNDERSTOOD).getFirst());
    }

    private static Predicate<RunInput> is(double usGallons) {
        return SerialBench.UNDERSTOOD.and(
                input -> total(input).equals(Volume.ofUsGallons(usGallons)));
    }

    private static Volume total(RunInput input) {
        return ((RunInput.ControllerTotal) input).total();
    }
}
