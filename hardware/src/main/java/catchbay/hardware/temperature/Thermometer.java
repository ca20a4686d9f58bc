package catchbay.hardware.temperature;

import catchbay.hardware.clock.MonotonicClock;
import catchbay.run.RunInput;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;
import catchbay.signal.ThermometerText;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/** One of the kernel's thermometers, which is asked by reading its file. */
record Thermometer(TemperaturePlace place, Path file, MonotonicClock clock) {

    /**
     * Asks it. A sensor that has come off is a reading that is missing: it may be plugged in again.
     */
    RunInput read() {
        TemperatureReading reading;
        try (InputStream text = Files.newInputStream(file)) {
            byte[] bytes = text.readNBytes(ThermometerText.CHARACTERS_MAX + 1);
            reading = ThermometerText.read(new String(bytes, StandardCharsets.ISO_8859_1));
        } catch (IOException gone) {
            reading = new TemperatureReading.Missing("its file " + file + " cannot be read");
        }
        return new RunInput.Thermometer(clock.nanos(), place, reading);
    }
}
