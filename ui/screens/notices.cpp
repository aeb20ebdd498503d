#include "ui/screens/notices.h"

#include "cards/bank.h"

namespace tallyround::ui {

namespace {

constexpr std::string_view mit =
    "Permission is hereby granted, free of charge, to any person obtaining a copy of this software "
    "and associated documentation files (the “Software”), to deal in the Software without "
    "restriction, including without limitation the rights to use, copy, modify, merge, publish, "
    "distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the "
    "Software is furnished to do so, subject to the following conditions: The above copyright "
    "notice and this permission notice shall be included in all copies or substantial portions of "
    "the Software. The Software is provided “as is”, without warranty of any kind, express or "
    "implied, including but not limited to the warranties of merchantability, fitness for a "
    "particular purpose and noninfringement. In no event shall the authors or copyright holders be "
    "liable for any claim, damages or other liability, whether in an action of contract, tort or "
    "otherwise, arising from, out of or in connection with the Software or the use or other "
    "dealings in the Software.";

constexpr std::string_view bsd =
    "Redistribution and use in source and binary forms, with or without modification, are "
    "permitted "
    "provided that the following conditions are met: redistributions of source code must retain "
    "the "
    "above copyright notice, this list of conditions and the following disclaimer; redistributions "
    "in binary form must reproduce the above copyright notice, this list of conditions and the "
    "following disclaimer in the documentation and/or other materials provided with the "
    "distribution. This software is provided by the copyright holders and contributors “as is” and "
    "any express or implied warranties are disclaimed. In no event shall the copyright owner or "
    "contributors be liable for any damages arising in any way out of the use of this software.";

constexpr std::string_view zlib =
    "This software is provided “as-is”, without any express or implied warranty. In no event will "
    "the authors be held liable for any damages arising from the use of this software. Permission "
    "is granted to anyone to use this software for any purpose, including commercial applications, "
    "and to alter it and redistribute it freely, subject to the following restrictions: the origin "
    "of this software must not be misrepresented; altered source versions must be plainly marked "
    "as such; this notice may not be removed or altered from any source distribution.";

}  // namespace

const std::vector<Notice>& notices() {
    static const std::vector<Notice> all{
        {"Tallyround", "© 2026 The Tallyround authors. MIT License (text below)."},
        {"Standards", cards::standards_notice()},
        {"Tallyround Sans",
         "Cut from Andika, © 2004–2022 SIL International, under the SIL Open Font License 1.1; "
         "the name Andika is reserved. The licence stands beside the font file of this app."},
        {"Dear ImGui",
         "© 2014–2025 Omar Cornut. MIT License (text below). Holds stb_truetype and "
         "stb_rect_pack by Sean Barrett, MIT License or public domain."},
        {"JSON for Modern C++", "© 2013–2022 Niels Lohmann. MIT License (text below)."},
        {"Emscripten and musl",
         "© 2010–2024 Emscripten authors; © 2005–2020 Rich Felker and others. MIT License (text "
         "below)."},
        {"LLVM libc++ and compiler-rt", "LLVM Project, Apache License 2.0 with LLVM Exceptions."},
        {"Boost", "Boost Software License 1.0."},
        {"expected", "Sy Brand. CC0 1.0, public domain dedication."},
        {"MIT License", mit},
        {"SDL", "© 1997–2025 Sam Lantinga. zlib License."},
        {"zlib and minizip",
         "© 1995–2024 Jean-loup Gailly and Mark Adler; © 1998–2010 Gilles Vollant, © 2007–2008 "
         "Even "
         "Rouault, © 2009–2010 Mathias Svensson. zlib License."},
        {"zlib License", zlib},
        {"jsQR",
         "Cosmo Wolfe and others. Apache License 2.0; the licence stands beside the script of this "
         "app. QR Code is a registered trademark of DENSO WAVE INCORPORATED."},
        {"qrcode-generator", "© 2009 Kazuhiko Arase. MIT License (text above)."},
        {"xxHash", "© 2012–2021 Yann Collet. BSD 2-Clause License."},
        {"BSD 2-Clause License", bsd},
    };
    return all;
}

}  // namespace tallyround::ui
