package catchbay.metrology;

/** Arithmetic of a few readings, in their own unit. Refuses what is not a number. */
final class Sample {

    private Sample() {}

    /** The mean; at least one reading, all finite. */
    static double mean(double[] readings) {
        refuseNotFinite(readings);
        // Summed as differences from the first, which keeps the digits of a small spread.
        double sum = 0;
        for (double reading : readings) {
            sum += reading - readings[0];
        }
        return readings[0] + sum / readings.length;
    }

    /** Sum of the squares of the readings' distances from their mean. */
    static double squares(double[] readings) {
        double mean = mean(readings);
        double sum = 0;
        for (double reading : readings) {
            sum += (reading - mean) * (reading - mean);
        }
        return sum;
    }

    /** Experimental standard deviation (JCGM 100:2008, 4.2.2); at least two readings. */
    static double deviation(double[] readings) {
        return Math.sqrt(squares(readings) / (readings.length - 1));
    }

    static double least(double[] readings) {
        double least = Double.POSITIVE_INFINITY;
        for (double reading : readings) {
            least = Math.min(least, reading);
        }
        return least;
    }

    static double most(double[] readings) {
        double most = Double.NEGATIVE_INFINITY;
        for (double reading : readings) {
            most = Math.max(most, reading);
        }
        return most;
    }

    private static void refuseNotFinite(double[] readings) {
        if (readings.length == 0) {
            throw new IllegalArgumentException("there is no reading to average");
        }
        for (int i = 0; i < readings.length; i++) {
            if (!Double.isFinite(readings[i])) {
                throw new IllegalArgumentException(
                        "reading " + (i + 1) + " must be finite, was " + readings[i]);
            }
        }
    }
}
