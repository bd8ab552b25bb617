// Prints, as JSON, when the npm package opening_hours finds each value of a list open or unknown, 2025 to 2027.
//
//     npm install --prefix ORACLE opening_hours@3.15.0        (LGPL-3.0; an oracle for tests, no part of this project)
//     TZ=Europe/Vienna NODE_PATH=ORACLE/node_modules node print_intervals.js at 48.2 16.37 VALUES > vienna.json
//
// VALUES: a value a line, after the last tab if there is one; lines that begin with # are passed over. Times are seconds
// since 1970. The package judges in the process's zone, so TZ must name it; the country picks the public holidays, which
// are printed too. Coordinates go in as text: numbers make it use 06:00 and 18:00 for the sun without a word.
'use strict';
const fs = require('fs');
const OpeningHours = require('opening_hours');

const [country, latitude, longitude, file] = process.argv.slice(2);
if (!file || !process.env.TZ) {
    console.error('usage: TZ=ZONE node print_intervals.js COUNTRY LATITUDE LONGITUDE VALUES');
    process.exit(2);
}
const place = {lat: latitude, lon: longitude, address: {country_code: country, state: ''}};
const from = new Date(2025, 0, 1);
const until = new Date(2028, 0, 1);
const seconds = (date) => Math.round(date.getTime() / 1000);

function intervalsOf(hours, first, last) {
    return hours.getOpenIntervals(first, last).map(
        ([start, end, unknown]) => [seconds(start), seconds(end), unknown ? 1 : 0]);
}

// Day by day: the package throws on days without sunrise, and with the sun's times when clocks go back.
function dayByDay(hours, first, last) {
    const intervals = [];
    const unjudged = [];
    for (let day = new Date(first); day < last;) {
        const next = new Date(day);
        next.setDate(next.getDate() + 1);
        try {
            intervals.push(...intervalsOf(hours, day, next));
        } catch (error) {
            unjudged.push([seconds(day), seconds(next)]);
        }
        day = next;
    }
    return {intervals, unjudged};
}

function judge(value, first = from, last = until) {
    let hours;
    try {
        hours = new OpeningHours(value, place, {locale: 'en'});
    } catch (error) {
        return {value, refused: String(error).replace(/\s+/g, ' ')};
    }
    try {
        return {value, intervals: intervalsOf(hours, first, last)};
    } catch (error) {
        return {value, ...dayByDay(hours, first, last)};
    }
}

// Midsummer's sunrise must not be the fallback's.
const rise = new OpeningHours('sunrise-12:00', place).getOpenIntervals(new Date(2025, 5, 21), new Date(2025, 5, 22))[0][0];
if (rise.getHours() === 6 && rise.getMinutes() === 0) {
    console.error('the package does not use the coordinates');
    process.exit(1);
}

const values = fs.readFileSync(file, 'utf8').split('\n')
    .filter((line) => line && !line.startsWith('#'))
    .map((line) => line.slice(line.lastIndexOf('\t') + 1));
console.log(JSON.stringify({
    zone: process.env.TZ,
    latitude: Number(latitude),
    longitude: Number(longitude),
    from: seconds(from),
    until: seconds(until),
    holidays: judge('PH', new Date(2024, 11, 1), new Date(2028, 1, 1)).intervals || [],
    values: values.map((value) => judge(value)),
}));
